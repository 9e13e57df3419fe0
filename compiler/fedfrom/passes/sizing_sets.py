"""What goes with the phase conductors: neutral, ground, raceway, impedance; the whole `ConductorResult`."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.formulas.grounding import increased_ground_area
from fedfrom.formulas.raceway import conductors_area, fill_pct, smallest_raceway
from fedfrom.model.items import Origin
from fedfrom.passes.sizing_conductors import ConductorRequest, Option, PhaseChoice, choose_phase, drop_of, impedance_of
from fedfrom.results.types import ConductorResult
from fedfrom.tables import Edition, lookup


@dataclass(frozen=True, slots=True)
class SizedConductors:
    """The conductors with the choice that they came from (for derivations)."""

    result: ConductorResult
    choice: PhaseChoice
    ground_table_size: str
    ground_ratio: float
    drop_pct: float | None = None
    drop_limit_pct: float | None = None
    request: ConductorRequest | None = None


def size_conductors(edition: Edition, request: ConductorRequest) -> SizedConductors | None:
    """Conductors for a request, or None where the tables cannot answer."""
    choice = choose_phase(edition, request)
    if choice is None:
        return None
    option, settings = choice.option, request.settings
    material = settings.material.value
    stated = request.written.impedance
    neutral, neutral_origin = _neutral(edition, request, choice)
    ground, ground_kind, ground_origin, table_size, ratio = _ground(edition, request, choice)
    raceway, fill, raceway_origin = _raceway(edition, request, option.size, neutral, ground)
    resistance = impedance_of(edition, request, option.size)
    result = ConductorResult(
        sets=option.sets,
        ungrounded=request.ungrounded,
        phase=option.size,
        neutral=neutral,
        ground=ground,
        ground_kind=ground_kind,
        material=material,
        insulation=settings.insulation.value,
        raceway_kind=settings.raceway_kind.value,
        raceway_size=raceway,
        ampacity_a=round(option.usable_a, 3),
        terminal_c=choice.terminal_c,
        ambient_factor=choice.ambient_factor,
        adjustment_factor=choice.adjustment_factor,
        fill_pct=fill,
        r_ohm_per_kft=resistance[0] if resistance else None,
        x_ohm_per_kft=resistance[1] if resistance else None,
        origins={
            **choice.origins,
            "neutral": neutral_origin,
            "ground": ground_origin,
            "raceway": raceway_origin,
            "material": settings.material.origin,
            "insulation": settings.insulation.origin,
            "raceway_kind": settings.raceway_kind.origin,
            **({"impedance": stated.origin} if stated is not None else {}),
        },
        by=request.by,
    )
    limit = request.drop[0].limit_pct if request.drop else None
    return SizedConductors(result, choice, table_size, ratio, drop_of(edition, request, option), limit, request)


def _neutral(edition: Edition, request: ConductorRequest, choice: PhaseChoice) -> tuple[str, Origin]:
    written = request.written.neutral
    size = choice.option.size
    if written is None:
        return (size if request.has_neutral else ""), Origin.CHOSEN
    if written.value == "none":
        return "", written.origin
    if written.value.endswith("%"):
        percent = float(written.value.removesuffix("%").strip())
        return _share_of_phase(edition, request.settings.material.value, choice, percent), written.origin
    return written.value, written.origin


def _share_of_phase(edition: Edition, material: str, choice: PhaseChoice, percent: float) -> str:
    """The smallest size with this share of the phase conductor's ampacity; the largest of the table where none has."""
    needed = (lookup.ampacity(edition, material, choice.option.size, choice.terminal_c) or 0.0) * percent / 100
    for size in lookup.sizes(edition):
        value = lookup.ampacity(edition, material, size, choice.terminal_c)
        if value is not None and value >= needed - 0.001:
            return size
    return lookup.sizes(edition)[-1]


def _ground(edition: Edition, request: ConductorRequest, choice: PhaseChoice) -> tuple[str, str, Origin, str, float]:
    """(size, kind, origin, size of the table before any increase, ratio of the increase)."""
    table_size, ratio = ground_needed(edition, request, choice)
    written = request.written.ground
    kind = {"equipment": "equipment grounding conductor", "supply-side": "supply-side bonding jumper"}
    name = kind.get(request.ground_rule, "")
    if written is not None:
        if written.value == "none":
            return "", "raceway" if name else "", written.origin, table_size, ratio
        return written.value, name or kind["equipment"], written.origin, table_size, ratio
    if not name or not table_size:
        return "", "", Origin.CHOSEN, table_size, ratio
    # The cap at the size of the phase conductors is one of equipment grounds (250.122(A)), not of bonding jumpers.
    supply_side = request.ground_rule == "supply-side"
    size = table_size if supply_side else enlarged_ground(edition, choice, table_size, ratio)
    return _not_below(edition, size, request.least_size), name, Origin.CHOSEN, table_size, ratio


def _not_below(edition: Edition, size: str, least: str) -> str:
    """The least size that is installed at all also holds for the ground (common practice)."""
    area, limit = lookup.area_kcmil(edition, size), lookup.area_kcmil(edition, least)
    return least if area is not None and limit is not None and area < limit else size


def ground_needed(edition: Edition, request: ConductorRequest, choice: PhaseChoice) -> tuple[str, float]:
    """The size of the table, and by how much the phase conductors exceed what ampacity asks for (NEC 250.122(B))."""
    material = request.settings.material.value
    option = choice.option
    if request.ground_rule == "supply-side":
        return lookup.bonding_jumper_size(edition, material, option.area_kcmil, material) or "", 1.0
    device = request.ground_device_a or request.device_a
    if request.ground_rule != "equipment" or device is None:
        return "", 1.0
    base = choice.by_ampacity
    ratio = max(option.area_kcmil / base.area_kcmil, 1.0) if base else 1.0
    return lookup.egc_size(edition, material, device) or "", ratio


def enlarged_ground(edition: Edition, choice: PhaseChoice, table_size: str, ratio: float) -> str:
    """The equipment grounding conductor after the proportional increase, never larger than a phase conductor."""
    area = lookup.area_kcmil(edition, table_size)
    if area is None:
        return table_size
    used: Option = choice.option
    needed = increased_ground_area(area, used.area_kcmil, used.area_kcmil / ratio)
    return lookup.size_with_area(edition, needed) or table_size


def _raceway(
    edition: Edition, request: ConductorRequest, phase: str, neutral: str, ground: str
) -> tuple[str, float | None, Origin]:
    """(trade size, fill in percent, origin); the size is "" where the tables have none for the kind or insulation."""
    written = request.written.raceway
    insulation, kind = request.settings.insulation.value, request.settings.raceway_kind.value
    counts = [(phase, request.ungrounded), (neutral, 1 if neutral else 0), (ground, 1 if ground else 0)]
    areas = [(lookup.conductor_area(edition, insulation, size), count) for size, count in counts if count]
    sizes = lookup.trade_sizes(edition, kind)
    known = [(area, count) for area, count in areas if area is not None]
    if len(known) != len(areas) or not sizes:
        return (written.value if written else ""), None, written.origin if written else Origin.CHOSEN
    total = conductors_area(known)
    if written is not None:
        inside = dict(sizes).get(written.value)
        return written.value, (round(fill_pct(total, inside), 2) if inside else None), written.origin
    limit = lookup.fill_limit_pct(edition, sum(count for _, count in known))
    found = smallest_raceway(total, limit, sizes, lookup.choice(edition, "smallest_raceway"))
    return (found[0], round(found[1], 2), Origin.CHOSEN) if found else ("", None, Origin.CHOSEN)
