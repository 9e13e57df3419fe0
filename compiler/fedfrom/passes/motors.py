"""Motors that run on each bus and feed a fault there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fedfrom.model.items import Item, Load, Status
from fedfrom.passes.practice import MotorContribution, motor_contribution
from fedfrom.passes.work import Work
from fedfrom.results.types import CircuitResult

CLOSED_TO_FAULTS = ("drive", "variable frequency drive")


@dataclass(frozen=True, slots=True)
class MotorGroup:
    """One motor circuit: full-load current, A, and how it feeds a fault."""

    key: str
    full_load_a: float
    contribution: MotorContribution


def running_motors(work: Work) -> Mapping[str, tuple[MotorGroup, ...]]:
    """Three-phase motors by the tag of their gear, every one taken as running (the safe side where some alternate).

    Motors behind drives feed no fault, and single-phase ones are left out: common practice.
    """
    found: dict[str, tuple[MotorGroup, ...]] = {}
    for tag, circuits in work.circuits.items():
        item = work.model.items.get(tag)
        groups = [group for circuit in circuits if (group := _group(work, item, circuit)) is not None]
        if groups:
            found[tag] = tuple(groups)
    return found


def _group(work: Work, item: Item | None, circuit: CircuitResult) -> MotorGroup | None:
    if circuit.kind not in ("load", "tap") or circuit.poles != 3 or circuit.status in (Status.DEMOLISH, Status.FUTURE):
        return None
    contribution = motor_contribution(work.edition, circuit.category, circuit.motor_hp)
    if contribution is None or behind_drive(item, circuit):
        return None
    amperes = _full_load(circuit)
    return MotorGroup(circuit.key, amperes, contribution) if amperes else None


def _full_load(circuit: CircuitResult) -> float | None:
    """Table current; of packaged equipment the minimum circuit ampacity without its 25 %; else the load current."""
    if circuit.table_a is not None:
        return circuit.table_a
    if circuit.mca_a is not None:
        return circuit.mca_a / 1.25
    return circuit.load_a


def behind_drive(item: Item | None, circuit: CircuitResult) -> bool:
    """Whether the load of a circuit is fed through a drive."""
    load = load_of(item, circuit)
    return load is not None and any(load.facts.first(word) is not None for word in CLOSED_TO_FAULTS)


def load_of(item: Item | None, circuit: CircuitResult) -> Load | None:
    """The load line that a row came from: by its tag, else by its place in the text."""
    if item is None:
        return None
    for load in item.loads:
        if circuit.tag and load.tag == circuit.tag:
            return load
        if circuit.span is not None and load.span == circuit.span:
            return load
    return None
