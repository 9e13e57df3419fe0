"""Derivations of what goes with the phase conductors: neutral, ground and raceway, each a calculation of its own."""

from __future__ import annotations

from collections.abc import Sequence

from fedfrom.model.items import Origin
from fedfrom.passes.sizing_conductors import ConductorRequest
from fedfrom.passes.sizing_sets import SizedConductors
from fedfrom.results.derivation import Derivation, Input, Rejected, Step
from fedfrom.results.notation import amperes_text, size_text
from fedfrom.tables import Edition, lookup

AS_WRITTEN = "as written, checked"


def wiring_derivations(
    edition: Edition, subject: str, sized: SizedConductors, state: str = ""
) -> tuple[Derivation, ...]:
    """How neutral, ground and raceway came about, where there are any; `subject`: "DP1.feeder", "LP1.3"."""
    request = sized.request
    if request is None:
        return ()
    found = (
        _neutral(edition, subject, sized, request, state),
        _ground(edition, subject, sized, request, state),
        _raceway(edition, subject, sized, request, state),
    )
    return tuple(each for each in found if each is not None)


def _origin(sized: SizedConductors, name: str) -> Origin:
    return sized.result.origins.get(name, Origin.CHOSEN)


# --- neutral -------------------------------------------------------------------------------------------------------


def _neutral(
    edition: Edition, subject: str, sized: SizedConductors, request: ConductorRequest, state: str
) -> Derivation | None:
    result = sized.result
    written = request.written.neutral
    if not result.neutral and written is None:
        return None
    origin = _origin(sized, "neutral")
    phase = size_text(result.phase)
    if written is not None and written.value.endswith("%"):
        steps = _share_steps(edition, sized, float(written.value.removesuffix("%").strip()))
        rounding = "smallest size with that ampacity"
    else:
        reason = "as large as a phase conductor" if origin is Origin.CHOSEN else "as written"
        steps = [Step(f"neutral {reason}", "", size_text(result.neutral) or "none", edition.clause("220.61"))]
        rounding = "" if origin is Origin.CHOSEN else AS_WRITTEN
    return Derivation(
        f"{subject}.neutral",
        "neutral conductor",
        size_text(result.neutral) or "none",
        origin,
        (Input("phase", "phase conductor", phase, _origin(sized, "phase"), source=f"see {subject}.phase"),),
        tuple(steps),
        rounding,
        edition.clause("220.61"),
        (),
        state,
        written.span if written else None,
    )


def _share_steps(edition: Edition, sized: SizedConductors, percent: float) -> list[Step]:
    result, choice = sized.result, sized.choice
    whole = lookup.ampacity(edition, result.material, result.phase, choice.terminal_c)
    own = lookup.ampacity(edition, result.material, result.neutral, choice.terminal_c)
    if whole is None or own is None:
        return []
    column = f"{choice.terminal_c} C column"
    return [
        Step(f"ampacity needed, {column}", f"{percent / 100:g} x {whole:g} A", amperes_text(percent / 100 * whole)),
        Step(f"ampacity of {size_text(result.neutral)}", "", amperes_text(own), edition.clause("310.16")),
    ]


# --- ground --------------------------------------------------------------------------------------------------------


def _ground(
    edition: Edition, subject: str, sized: SizedConductors, request: ConductorRequest, state: str
) -> Derivation | None:
    result = sized.result
    if not result.ground and result.ground_kind != "raceway":
        return None
    supply_side = request.ground_rule == "supply-side"
    inputs, steps = _jumper(edition, sized) if supply_side else _equipment(edition, sized, request)
    origin = _origin(sized, "ground")
    written = request.written.ground
    table = size_text(sized.ground_table_size)
    rounding = AS_WRITTEN if origin is not Origin.CHOSEN else "size of the table"
    if origin is Origin.CHOSEN and result.ground != sized.ground_table_size:
        enlarged = sized.ground_ratio > 1.0005
        rounding = "next size of at least that area" if enlarged else f"{table} raised to the smallest size installed"
    return Derivation(
        f"{subject}.ground",
        "supply-side bonding jumper" if supply_side else "equipment grounding conductor",
        size_text(result.ground) or "none: the raceway serves",
        origin,
        inputs,
        tuple(steps),
        rounding,
        edition.clause("250.102(C)(1)" if supply_side else "Table 250.122"),
        (),
        state,
        written.span if written else None,
    )


def _jumper(edition: Edition, sized: SizedConductors) -> tuple[tuple[Input, ...], list[Step]]:
    result, clause = sized.result, edition.clause("250.102(C)(1)")
    inputs = (
        Input("A", f"{size_text(result.phase)}, the phase conductor in each raceway", _kcmil(edition, result.phase)),
    )
    formula = f"size for {_kcmil(edition, result.phase)} {_metal(result.material)}, jumper in each raceway"
    return inputs, [Step(formula, "", size_text(sized.ground_table_size), clause)]


def _equipment(
    edition: Edition, sized: SizedConductors, request: ConductorRequest
) -> tuple[tuple[Input, ...], list[Step]]:
    result, table = sized.result, sized.ground_table_size
    device = request.ground_device_a or request.device_a
    inputs = [] if device is None else [Input("OCPD", "device ahead", amperes_text(device))]
    if not table:
        return tuple(inputs), []
    formula = f"size for a device of up to {amperes_text(device)}, {_metal(result.material)}"
    steps = [Step(formula, "", size_text(table), edition.clause("Table 250.122"))]
    if sized.ground_ratio > 1.0005 and sized.choice.by_ampacity is not None:
        needed, used = sized.choice.by_ampacity.area_kcmil, sized.choice.option.area_kcmil
        area = lookup.area_kcmil(edition, table) or 0.0
        clause = edition.clause("250.122(B)")
        inputs.append(
            Input("A", "phase conductor used", f"{used:,.6g} kcmil", source=edition.clause("Chapter 9 Table 8"))
        )
        inputs.append(Input("A0", "phase conductor that ampacity asks for", f"{needed:,.6g} kcmil"))
        steps.append(Step("increase = A / A0", f"{used:,.6g} / {needed:,.6g}", f"{sized.ground_ratio:.3f}", clause))
        steps.append(
            Step(
                "area = table area x increase",
                f"{area:,.6g} kcmil x {sized.ground_ratio:.3f}",
                f"{area * sized.ground_ratio:,.5g} kcmil",
                clause,
            )
        )
        steps.append(Step(f"{size_text(result.ground)} has", "", _kcmil(edition, result.ground), clause))
    return tuple(inputs), steps


def _kcmil(edition: Edition, size: str) -> str:
    area = lookup.area_kcmil(edition, size)
    return "not known" if area is None else f"{area:,.6g} kcmil"


def _metal(material: str) -> str:
    return "aluminum" if material == "Al" else "copper"


# --- raceway -------------------------------------------------------------------------------------------------------


def _raceway(
    edition: Edition, subject: str, sized: SizedConductors, request: ConductorRequest, state: str
) -> Derivation | None:
    result = sized.result
    if not result.raceway_size:
        return None
    kind, insulation = result.raceway_kind, result.insulation
    parts = [
        (symbol, name, size, count)
        for symbol, name, size, count in (
            ("Ap", "phase", result.phase, result.ungrounded),
            ("An", "neutral", result.neutral, 1 if result.neutral else 0),
            ("Ag", "ground", result.ground, 1 if result.ground else 0),
        )
        if count
    ]
    areas = [lookup.conductor_area(edition, insulation, size) for _, _, size, _ in parts]
    known = [area for area in areas if area is not None]
    sizes = lookup.trade_sizes(edition, kind)
    inside = dict(sizes).get(result.raceway_size)
    inputs = [
        Input(symbol, f"area of {size_text(size)} {insulation}, {name}", f"{area:g} in2", source=_areas_clause(edition))
        for (symbol, name, size, _), area in zip(parts, areas, strict=True)
        if area is not None
    ]
    steps: list[Step] = []
    rejected: tuple[Rejected, ...] = ()
    if inside is not None and len(known) == len(parts):
        counts = [count for *_, count in parts]
        total = sum(area * count for area, count in zip(known, counts, strict=True))
        limit = lookup.fill_limit_pct(edition, sum(counts))
        inputs.append(
            Input(
                "A",
                f"inside area of {result.raceway_size} inch {kind}",
                f"{inside:g} in2",
                source=_inside_clause(edition),
            )
        )
        terms = " + ".join(f"{count} x {area:g}" for area, count in zip(known, counts, strict=True))
        symbols = " + ".join(f"{count} {symbol}" for symbol, _, _, count in parts)
        steps = [
            Step(f"area of conductors = {symbols}", terms, f"{total:.4f} in2"),
            Step(
                "fill = 100 x area of conductors / A",
                f"100 x {total:.4f} / {inside:g}",
                f"{100 * total / inside:.1f} %",
            ),
            Step(f"limit for {sum(counts)} conductors", "", f"{limit:g} %", edition.clause("Chapter 9 Table 1")),
        ]
        if _origin(sized, "raceway") is Origin.CHOSEN:
            rejected = _smaller(edition, sizes, result.raceway_size, total, limit)
    return Derivation(
        f"{subject}.raceway",
        "raceway" + (", one for each set" if result.sets > 1 else ""),
        f"{result.raceway_size} inch {kind}",
        _origin(sized, "raceway"),
        tuple(inputs),
        tuple(steps),
        AS_WRITTEN if _origin(sized, "raceway") is not Origin.CHOSEN else "smallest trade size within the limit",
        edition.clause("Chapter 9 Table 1"),
        rejected,
        state,
        request.written.raceway.span if request.written.raceway else None,
    )


def _smaller(
    edition: Edition, sizes: Sequence[tuple[str, float]], kept: str, total: float, limit: float
) -> tuple[Rejected, ...]:
    names = [name for name, _ in sizes]
    at = names.index(kept)
    if at == 0:
        return ()
    name, inside = sizes[at - 1]
    fill = 100 * total / inside
    if fill > limit:
        return (Rejected(f"{name} inch", f"fill {fill:.1f} %, over {limit:g} %"),)
    return (Rejected(f"{name} inch", "smaller than the smallest that is installed (common practice)"),)


def _areas_clause(edition: Edition) -> str:
    return edition.clause("Chapter 9 Table 5")


def _inside_clause(edition: Edition) -> str:
    return edition.clause("Chapter 9 Table 4")
