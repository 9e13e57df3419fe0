"""From the demand lines of a node to amperes: by phase, and for sizing. The neutral has a module of its own."""

from __future__ import annotations

import math
from collections.abc import Sequence

from fedfrom.formulas.load_phases import NOTHING, PhaseLoad, add, component_current, line_currents, scale, terminals
from fedfrom.passes.load_demand import Demand
from fedfrom.passes.load_gather import Counted
from fedfrom.quantity import VoltageSystem

Lines = tuple[float, float, float]


def balanced_a(va: float, system: VoltageSystem | None) -> float:
    """The current in A of a load spread evenly over the phases of a system; 0 without one."""
    if system is None:
        return 0.0
    return va / (system.line_to_line_v * (math.sqrt(3) if system.phases == 3 else 1.0))


def even_a(demands: Sequence[Demand], system: VoltageSystem | None, continuous_more: float = 0.0) -> float:
    """The current in A of the demand of a node spread evenly, `continuous_more` (0.25) on top of its continuous part.

    Of two lines and the neutral of a wye, a load to neutral takes its half at 120 V and a load between the lines its
    whole at 208 V; the two are added as the code's examples add them (Annex D, Example D5(a)).
    """
    if system is None or system.kind != "single-phase-of-wye":
        return balanced_a(sum(line.demand_va + continuous_more * line.continuous_va for line in demands), system)
    to_neutral, across = neutral_and_across(demands, continuous_more)
    return to_neutral / (2 * system.line_to_neutral_v) + across / system.line_to_line_v


def neutral_and_across(demands: Sequence[Demand], continuous_more: float = 0.0) -> tuple[float, float]:
    """The demand of a node in VA (to the neutral, between lines)."""
    parts = [
        scale(_scaled(entry, va), 1.0 if demand.added else 1.0 + continuous_more * _takes_125(entry))
        for demand in demands
        for entry, va in demand.parts
    ]
    whole = add(parts)
    return sum(whole[:3]), sum(whole[3:])


def demand_by_conductor(demands: Sequence[Demand]) -> PhaseLoad:
    """The demand of a node by conductor, general loads of dwelling units evenly."""
    return add(_scaled(entry, va) for demand in demands for entry, va in demand.parts)


def demand_lines(demands: Sequence[Demand], system: VoltageSystem | None) -> Lines:
    """The demand current of each line in A, with the 25 % of the largest motor of that line (430.24)."""
    loads = add(_scaled(entry, va) for demand in demands if not demand.added for entry, va in demand.parts)
    return _with_motors(loads, demands, system)


def sizing_lines(demands: Sequence[Demand], system: VoltageSystem | None) -> Lines:
    """As `demand_lines`, with the 25 % of continuous load (215.2(A), 215.3)."""
    parts = [
        scale(_scaled(entry, va), 1.25 if _takes_125(entry) else 1.0)
        for demand in demands
        if not demand.added
        for entry, va in demand.parts
    ]
    return _with_motors(add(parts), demands, system)


def _takes_125(entry: Counted) -> bool:
    return entry.load.continuous and not entry.load.included_125


def _scaled(entry: Counted, va: float) -> PhaseLoad:
    return scale(entry.even_on, va / entry.va) if entry.va else NOTHING


def _with_motors(loads: PhaseLoad, demands: Sequence[Demand], system: VoltageSystem | None) -> Lines:
    if system is None:
        return (0.0, 0.0, 0.0)
    points = terminals(system.kind, system.line_to_line_v, system.line_to_neutral_v)
    a, b, c = line_currents(loads, points)
    more = motor_additions(demands, system)
    return (a + more[0], b + more[1], c + more[2])


def motor_additions(demands: Sequence[Demand], system: VoltageSystem) -> Lines:
    """What the largest motor on each line adds there in A (Annex D, Example D1(b): each line has its own)."""
    points = terminals(system.kind, system.line_to_line_v, system.line_to_neutral_v)
    found = [0.0, 0.0, 0.0]
    for demand in demands:
        for entry, each_va in demand.motors:
            for index, current in enumerate(_one_piece(entry, each_va, points)):
                found[index] = max(found[index], current * demand.percent / 100)
    return (found[0], found[1], found[2])


def _one_piece(entry: Counted, each_va: float, points: tuple[complex, complex, complex]) -> Lines:
    """The line currents of one of the pieces of a motor load; where the pieces hang on several phases, on each of
    them the current of a whole piece."""
    if not entry.va:
        return (0.0, 0.0, 0.0)
    if entry.load.count <= 1:
        return line_currents(scale(entry.on_phases, each_va / entry.va), points)
    return component_current(entry.on_phases, each_va, points)


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
