"""Motors that run on each bus and feed a fault there."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from fedfrom.model.fact_reading import amount
from fedfrom.model.items import Item, Load
from fedfrom.passes.load_amounts import written_power_factor
from fedfrom.passes.load_kinds import traits
from fedfrom.passes.practice import MotorContribution, motor_contribution
from fedfrom.passes.work import Work
from fedfrom.quantity import Dimension, Quantity
from fedfrom.results.types import CircuitResult
from fedfrom.tables import Edition

# Of a motor group, as in the practice table; used only for a load kind that the table does not list.
DEFAULT_X_OVER_R = 5.0
CLOSED_TO_FAULTS = ("drive", "variable frequency drive")


@dataclass(frozen=True, slots=True)
class MotorGroup:
    """One motor circuit: full-load current, A, and how it feeds a fault; `phases` 3, or 1 on a single-phase system."""

    key: str
    full_load_a: float
    contribution: MotorContribution
    phases: int = 3


def running_motors(work: Work) -> Mapping[str, tuple[MotorGroup, ...]]:
    """Motors by the tag of their gear, every one taken as running (the safe side where some alternate).

    Motors behind drives feed no fault; of single-phase ones those line to line on 120/240 V count, others are left out
    (common practice).
    """
    found: dict[str, tuple[MotorGroup, ...]] = {}
    for tag, circuits in work.circuits.items():
        item = work.model.items.get(tag)
        node = work.network.nodes.get(tag)
        single = node is not None and node.system is not None and node.system.kind == "single-phase"
        groups = [group for circuit in circuits if (group := _group(work, item, circuit, single)) is not None]
        if groups:
            found[tag] = tuple(groups)
    return found


def _group(work: Work, item: Item | None, circuit: CircuitResult, single: bool) -> MotorGroup | None:
    if circuit.poles != (2 if single else 3):
        return None
    if circuit.kind not in ("load", "tap") or circuit.status.is_gone:
        return None
    contribution = motor_contribution(work.edition, circuit.category, circuit.motor_hp)
    contribution = _stated(item, circuit, contribution)
    if contribution is None or behind_drive(item, circuit):
        return None
    amperes = _full_load(circuit)
    return MotorGroup(circuit.key, amperes, contribution, 1 if single else 3) if amperes else None


def _stated(item: Item | None, circuit: CircuitResult, usual: MotorContribution | None) -> MotorContribution | None:
    """The contribution from a written subtransient reactance: 1 / X'' times full-load current; else the usual one."""
    load = load_of(item, circuit)
    fact = load.facts.first("subtransient") if load is not None else None
    percent = amount(fact, Dimension.PERCENT)
    if fact is None or percent is None or percent <= 0:
        return usual
    written = fact.values.get("ratio")
    ratio = float(written) if isinstance(written, Quantity) else (usual.x_over_r if usual else DEFAULT_X_OVER_R)
    # The percentage is the reactance: with its resistance the impedance is larger by sqrt(1 + 1 / ratio^2).
    return MotorContribution(100.0 / percent / math.hypot(1.0, 1.0 / ratio), ratio)


def _full_load(circuit: CircuitResult) -> float | None:
    """Table current; of packaged equipment the minimum circuit ampacity without its 25 %; else the load current."""
    if circuit.table_a is not None:
        return circuit.table_a
    if circuit.mca_a is not None:
        return circuit.mca_a / 1.25
    return circuit.load_a


def circuit_power_factor(edition: Edition, item: Item | None, circuit: CircuitResult) -> float:
    """Power factor of a branch circuit's load, lagging: as written on its line, else that of its kind (0 < pf <= 1)."""
    load = load_of(item, circuit)
    written = written_power_factor(load) if load is not None else None
    if written is None:
        written = traits(edition, circuit.category.split(",")[0].strip()).power_factor
    return min(1.0, written) if written > 0 else 1.0


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
