"""Grounding electrode conductors and bonding jumpers of services and separately derived systems."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fedfrom.formulas.grounding import CONCRETE_CAP_CU, ROD_CAP_CU
from fedfrom.graph.walk import incoming_edges
from fedfrom.model.items import Electrode
from fedfrom.passes.work import Work
from fedfrom.results.types import ConductorResult, FeederResult, TransformerResult
from fedfrom.tables import Edition, lookup

# Electrodes to which NEC 250.66(A) and (B) cap the conductor (copper).
ROD_KINDS = frozenset({"rod", "pipe", "plate"})


@dataclass(frozen=True, slots=True)
class Bonding:
    """Sizes as table names; "" where they do not apply or are not known."""

    system_bonding_jumper: str = ""
    supply_side_bonding_jumper: str = ""
    grounding_electrode_conductor: str = ""
    electrode_conductors: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Supply:
    """The ungrounded conductors that grounding goes by: `runs` of them with their sets and `kcmil`, all together.

    One run for a service; the runs of every feeder of a separately derived system that feeds several enclosures, whose
    corresponding conductors are added (NEC 250.28(D)(3), Table 250.66 note 1).
    """

    runs: tuple[ConductorResult, ...]
    kcmil: float

    @property
    def material(self) -> str:
        """That of the largest table value: aluminum only where all of it is."""
        return "Al" if all(run.material == "Al" for run in self.runs) else "Cu"


def supply_kcmil(edition: Edition, conductors: ConductorResult) -> float | None:
    """The area in kcmil of the largest ungrounded supply conductor, parallel sets added (NEC Table 250.66)."""
    area = lookup.area_kcmil(edition, conductors.phase)
    return None if area is None else area * conductors.sets


def electrode_conductor(edition: Edition, supply: Supply, electrodes: Sequence[Electrode]) -> str:
    """The grounding electrode conductor, copper: by supply area, capped where it runs only to rods or concrete."""
    size = lookup.gec_size(edition, supply.material, supply.kcmil) or ""
    kinds = {electrode.kind for electrode in electrodes}
    if kinds and kinds <= ROD_KINDS:
        return _not_over(edition, size, ROD_CAP_CU)
    if kinds and kinds <= ROD_KINDS | {"concrete-encased"}:
        return _not_over(edition, size, CONCRETE_CAP_CU)
    return size


def electrode_conductors(edition: Edition, size: str, electrodes: Sequence[Electrode]) -> tuple[str, ...]:
    """The conductor to each electrode where it runs to that one alone: rods and concrete ask for no more than their
    cap (NEC 250.66(A), (B)), the others for the whole size; a written size stands. Empty without a size.
    """
    if not size:
        return ()
    found = []
    for each in electrodes:
        cap = ROD_CAP_CU if each.kind in ROD_KINDS else CONCRETE_CAP_CU if each.kind == "concrete-encased" else ""
        chosen = _not_over(edition, size, cap) if cap else size
        found.append(each.size.value if each.size is not None else chosen)
    return tuple(found)


def main_bonding_jumper(edition: Edition, supply: Supply) -> str:
    """The main or system bonding jumper, copper (NEC 250.28(D), 250.30(A)(1), Table 250.102(C)(1))."""
    return lookup.bonding_jumper_size(edition, supply.material, supply.kcmil) or ""


def transformer_bonding(work: Work, result: TransformerResult, feeders: Sequence[FeederResult]) -> Bonding:
    """Bonding of a separately derived system with a grounded secondary (NEC 250.30(A)); nothing for others."""
    system = result.secondary
    if system is None or system.grounding != "solid" or system.is_dc:
        return Bonding()
    supply = _together(work.edition, feeders)
    if supply is None:
        return Bonding()
    jumper = next((run.ground for run in supply.runs if run.ground_kind.startswith("supply-side")), "")
    electrodes = work.model.items[result.tag].electrodes
    size = electrode_conductor(work.edition, supply, electrodes)
    each = electrode_conductors(work.edition, size, electrodes)
    return Bonding(main_bonding_jumper(work.edition, supply), jumper, size, each)


def grounding_supply(work: Work, tag: str) -> Supply | None:
    """The conductors that the electrode conductor of gear or a transformer goes by: its service, or its secondary."""
    if tag in work.transformers:
        return _together(work.edition, [feeder for feeder in work.feeders.values() if feeder.source == tag])
    ids = [edge.id for edge in incoming_edges(work.network, tag)] if tag in work.network.nodes else []
    found = [work.feeders[each] for each in ids if each in work.feeders and work.feeders[each].kind == "service"]
    each = [supply for feeder in found if (supply := _together(work.edition, [feeder])) is not None]
    return max(each, key=lambda supply: supply.kcmil, default=None)


def _together(edition: Edition, feeders: Sequence[FeederResult]) -> Supply | None:
    """Feeders as one supply; None where no size is known."""
    runs, areas = [], []
    for feeder in feeders:
        area = supply_kcmil(edition, feeder.conductors) if feeder.conductors is not None else None
        if feeder.conductors is not None and area is not None:
            runs.append(feeder.conductors)
            areas.append(area)
    return Supply(tuple(runs), sum(areas)) if runs else None


def service_bonding(work: Work, tag: str) -> Bonding:
    """Bonding of service equipment: main bonding jumper and electrode conductor by the service conductors (250.24)."""
    supply = grounding_supply(work, tag)
    node = work.network.nodes[tag]
    if supply is None or node.system is None or node.system.grounding not in ("solid", "corner"):
        return Bonding()
    electrodes = work.model.items[tag].electrodes
    size = electrode_conductor(work.edition, supply, electrodes)
    each = electrode_conductors(work.edition, size, electrodes)
    return Bonding(main_bonding_jumper(work.edition, supply), "", size, each)


def _not_over(edition: Edition, size: str, cap: str) -> str:
    area, limit = lookup.area_kcmil(edition, size), lookup.area_kcmil(edition, cap)
    return cap if area is not None and limit is not None and area > limit else size
