"""What the specification says of conductors, raceways, grounding and colours."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fedfrom.documents.specification.gear_facts import by_value
from fedfrom.model.items import Status
from fedfrom.results.notation import size_words
from fedfrom.results.types import ConductorResult
from fedfrom.rules.registry import Design

# Sizes from small to large, for "smallest" and "largest"; larger ones are kcmil and sort by number.
_AWG = ("18", "16", "14", "12", "10", "8", "6", "4", "3", "2", "1", "1/0", "2/0", "3/0", "4/0")


def size_rank(size: str) -> float:
    """A number that grows with the conductor size."""
    return float(_AWG.index(size)) if size in _AWG else 1000.0 + float(size)


@dataclass(frozen=True, slots=True)
class WireRun:
    """A run of conductors that this project provides."""

    reference: str
    is_feeder: bool
    conductors: ConductorResult
    amperes: float | None


@dataclass(frozen=True, slots=True)
class WiringFacts:
    """All runs, and the sums that clauses need."""

    runs: tuple[WireRun, ...]
    colors: tuple[tuple[str, str], ...]
    systems: tuple[str, ...]

    def __bool__(self) -> bool:
        return bool(self.runs)

    @property
    def insulations(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Material and insulation with the runs that have them."""
        pairs = ((f"{run.conductors.material} {run.conductors.insulation}".strip(), run.reference) for run in self.runs)
        return by_value(pairs)

    def smallest(self, feeder: bool) -> str:
        """The smallest phase conductor of branch circuits or feeders, "" where there are none."""
        sizes = [run.conductors.phase for run in self.runs if run.is_feeder is feeder and run.conductors.phase]
        return size_words(min(sizes, key=size_rank)) if sizes else ""

    @property
    def aluminum(self) -> tuple[str, ...]:
        return tuple(run.reference for run in self.runs if run.conductors.material == "Al")

    @property
    def smallest_aluminum(self) -> str:
        sizes = [run.conductors.phase for run in self.runs if run.conductors.material == "Al" and run.conductors.phase]
        return size_words(min(sizes, key=size_rank)) if sizes else ""

    @property
    def parallel(self) -> tuple[str, ...]:
        return tuple(run.reference for run in self.runs if run.conductors.sets > 1)

    @property
    def tested(self) -> tuple[str, ...]:
        """Feeders of 100 A and more: those whose insulation is tested and whose terminations are logged."""
        return tuple(run.reference for run in self.runs if run.is_feeder and (run.amperes or 0.0) >= 100.0)

    @property
    def raceways(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Raceway kinds with the runs in them."""
        return by_value(
            (run.conductors.raceway_kind, run.reference) for run in self.runs if run.conductors.raceway_kind
        )

    @property
    def smallest_raceway(self) -> str:
        sizes = [run.conductors.raceway_size for run in self.runs if run.conductors.raceway_size]
        return min(sizes, key=trade_size) if sizes else ""

    def raceway(self, *kinds: str) -> tuple[str, ...]:
        return tuple(run.reference for run in self.runs if run.conductors.raceway_kind in kinds)


def trade_size(text: str) -> float:
    """A trade size in inches: "1-1/4" -> 1.25."""
    whole, _, part = text.partition("-")
    if not part and "/" in whole:
        whole, part = "0", whole
    top, _, bottom = part.partition("/")
    return float(whole) + (float(top) / float(bottom) if part else 0.0)


def wiring_facts(design: Design) -> WiringFacts:
    """The runs of feeders, then of branch circuits, without what others provide or what is already there."""
    runs = tuple(_runs(design))
    systems = tuple(
        dict.fromkeys(gear.system.literal for gear in design.results.gear.values() if gear.system is not None)
    )
    rows = {row["system"]: row for row in design.edition.rows("conductor_colors")}
    colors = []
    for system in systems:
        row = rows.get(system)
        if row is not None:
            phases = [row[name] for name in ("phase_a", "phase_b", "phase_c") if row[name]]
            neutral = f", neutral {row['neutral']}" if row["neutral"] else ""
            colors.append((system, f"{', '.join(phases)}{neutral}"))
    return WiringFacts(runs, tuple(colors), systems)


def _runs(design: Design) -> Iterator[WireRun]:
    for feeder in design.results.feeders.values():
        wires = feeder.conductors
        if wires is None or wires.by or feeder.by or feeder.status is not Status.NEW or feeder.kind == "inside":
            continue
        amperes = feeder.device.protects_a if feeder.device else feeder.design_a
        yield WireRun(feeder.id, True, wires, amperes)
    for circuits in design.results.circuits.values():
        for circuit in circuits:
            wires = circuit.conductors
            is_new = circuit.kind == "load" and circuit.status is Status.NEW and not circuit.by
            if is_new and wires is not None and not wires.by:
                yield WireRun(circuit.key, False, wires, circuit.device.protects_a if circuit.device else None)


@dataclass(frozen=True, slots=True)
class GroundPoint:
    """Where a system is grounded: tag, kind ("service" or "separately derived system") and what is connected there."""

    tag: str
    kind: str
    electrodes: tuple[str, ...]
    conductor: str
    jumper: str


def ground_points(design: Design) -> tuple[GroundPoint, ...]:
    """Services and separately derived systems of this project."""
    points = []
    for gear in design.results.gear.values():
        if gear.status is Status.NEW and not gear.by and (gear.service_equipment or gear.electrodes):
            conductor = size_words(gear.grounding_electrode_conductor) if gear.grounding_electrode_conductor else ""
            jumper = size_words(gear.main_bonding_jumper) if gear.main_bonding_jumper else ""
            points.append(GroundPoint(gear.tag, "service", gear.electrodes, conductor, jumper))
    for item in design.results.transformers.values():
        if item.status is Status.NEW and not item.by:
            conductor = size_words(item.grounding_electrode_conductor) if item.grounding_electrode_conductor else ""
            jumper = size_words(item.system_bonding_jumper) if item.system_bonding_jumper else ""
            points.append(GroundPoint(item.tag, "separately derived system", item.electrodes, conductor, jumper))
    return tuple(points)
