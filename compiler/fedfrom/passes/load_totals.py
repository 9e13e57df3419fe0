"""From the demand lines of a node to amperes: by phase, for sizing, and on the neutral."""

from __future__ import annotations

import math
from collections.abc import Sequence

from fedfrom.formulas.demand_neutral import reduced_neutral
from fedfrom.formulas.load_phases import NOTHING, PhaseLoad, add, line_currents, scale, terminals
from fedfrom.passes.connected import MEASURED
from fedfrom.passes.demand_tables import rule_220
from fedfrom.passes.load_demand import Demand
from fedfrom.passes.load_gather import Counted
from fedfrom.quantity import VoltageSystem
from fedfrom.tables import Edition

COOKING_AND_DRYING = frozenset({"range", "dryer"})


def balanced_a(va: float, system: VoltageSystem | None) -> float:
    """The current in A of a load spread evenly over the phases of a system; 0 without one."""
    if system is None:
        return 0.0
    return va / (system.line_to_line_v * (math.sqrt(3) if system.phases == 3 else 1.0))


def demand_by_conductor(demands: Sequence[Demand]) -> PhaseLoad:
    """The demand of a node by conductor."""
    return add(_scaled(entry, va) for demand in demands for entry, va in demand.parts)


def sizing_by_conductor(demands: Sequence[Demand]) -> PhaseLoad:
    """The demand by conductor with the 25 % of continuous load (215.2(A), 215.3)."""
    continuous = [
        scale(_scaled(entry, va), 0.25)
        for demand in demands
        if not demand.added
        for entry, va in demand.parts
        if entry.load.continuous and not entry.load.included_125
    ]
    return add([demand_by_conductor(demands), *continuous])


def _scaled(entry: Counted, va: float) -> PhaseLoad:
    return scale(entry.on_phases, va / entry.va) if entry.va else NOTHING


def phase_currents(load: PhaseLoad, system: VoltageSystem | None) -> tuple[float, float, float]:
    """The line currents of a load on a system in A; zeros without one."""
    if system is None:
        return (0.0, 0.0, 0.0)
    return line_currents(load, terminals(system.kind, system.line_to_line_v, system.line_to_neutral_v))


def neutral_current(demands: Sequence[Demand], system: VoltageSystem | None, edition: Edition) -> float:
    """The greatest unbalanced load on the neutral in A, reduced where 220.61 allows; 0 without a neutral.

    Cooking and drying count at 70 % of their demand, halved over their two lines. `demands` are those of the standard
    method, also where the node is calculated by an optional one (Annex D, Examples D2(a) and D4(b)).
    """
    if system is None or not system.has_neutral or system.line_to_neutral_v == system.line_to_line_v:
        return _two_wire_neutral(demands, system)
    linear, nonlinear = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
    cooking_share = rule_220(edition, "neutral_ranges_and_dryers") / 100
    for demand in demands:
        for entry, va in demand.parts:
            if not entry.va:
                continue
            totals = nonlinear if entry.load.nonlinear else linear
            for index, part in enumerate(_to_neutral(entry, cooking_share)):
                totals[index] += part * va / entry.va
    worst = max(range(3), key=lambda index: linear[index] + nonlinear[index])
    wye = system.kind == "wye"
    return reduced_neutral(
        linear[worst] / system.line_to_neutral_v + (0.0 if wye else nonlinear[worst] / system.line_to_neutral_v),
        nonlinear[worst] / system.line_to_neutral_v if wye else 0.0,
        rule_220(edition, "neutral_reduction_above"),
        rule_220(edition, "neutral_above_reduction"),
        may_reduce=system.kind != "single-phase-of-wye",
    )


def _to_neutral(entry: Counted, cooking_share: float) -> tuple[float, float, float]:
    a, b, c, ab, bc, ca, abc = entry.on_phases
    if entry.load.kind in COOKING_AND_DRYING:
        pairs = ((ab + ca) / 2, (ab + bc) / 2, (bc + ca) / 2)
        return (a + cooking_share * pairs[0], b + cooking_share * pairs[1], c + cooking_share * pairs[2])
    if entry.load.kind == MEASURED:
        third = abc / 3
        return (a + ab / 2 + third, b + ab / 2 + third, c + third)
    return (a, b, c)


def _two_wire_neutral(demands: Sequence[Demand], system: VoltageSystem | None) -> float:
    """A two-wire circuit: the neutral carries what the line carries."""
    if system is None or not system.has_neutral:
        return 0.0
    return sum(demand.demand_va for demand in demands) / system.line_to_neutral_v


def power_factor(demands: Sequence[Demand]) -> float:
    """The power factor of the demand of a node, from those of its loads (lagging); 1 for no load."""
    real = reactive = 0.0
    for demand in demands:
        for entry, va in demand.parts:
            factor = min(max(entry.load.power_factor, 0.0), 1.0)
            real += va * factor
            reactive += va * math.sqrt(1 - factor * factor)
    apparent = math.hypot(real, reactive)
    return real / apparent if apparent else 1.0


def motor_va(demands: Sequence[Demand]) -> float:
    """VA of the motors that run at a node without a drive: what feeds a fault."""
    return sum(
        entry.va for demand in demands if not demand.added for entry, _ in demand.parts if entry.load.contributes
    )
