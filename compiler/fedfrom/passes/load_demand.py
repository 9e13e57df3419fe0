"""Demand by category at one node, by the standard method: each category once, from all loads gathered there.

A category's rule is a function in `RULES`; a kind without one counts in full.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from fedfrom.formulas.demand_dwelling import fastened_appliances_va
from fedfrom.formulas.demand_machines import (
    arc_welder_group,
    elevator_demand,
    largest_motor_addition,
    resistance_welder_group,
    xray_feeder,
)
from fedfrom.formulas.demand_steps import factor_by_count, kitchen_demand, stepped_demand, steps_text
from fedfrom.passes.connected import DWELLING_GROUP, DWELLING_LIGHTING, MEASURED
from fedfrom.passes.demand_cooking import dryers, ranges
from fedfrom.passes.demand_tables import (
    by_count_rows,
    elevator_factor,
    kitchen_rows,
    lighting_steps,
    receptacle_steps,
    rule_220,
)
from fedfrom.passes.load_gather import Counted
from fedfrom.tables import Edition

LARGEST_MOTOR = "largest motor"
APPLIANCES = ("appliance", "water-heater")
BY_COUNT = ("mobile-home", "rv-site", "shore-power")


@dataclass(frozen=True, slots=True)
class Demand:
    """One line of the load table: its loads with the demand VA of each, the factor in words and its clause key.

    `left_out`: loads of the category that are not counted (noncoincident). `added` for a line that is no load of its
    own (the 25 % of the largest motor): connected counts as 0; `motors` then holds every motor with the VA of one
    piece, and `percent` what each adds on a line where it is the largest. `units` where something else than loads is
    counted.
    """

    category: str
    parts: tuple[tuple[Counted, float], ...]
    factor: str
    clause: str
    left_out: tuple[Counted, ...] = ()
    added: bool = False
    units: int = 0
    motors: tuple[tuple[Counted, float], ...] = ()
    percent: float = 0.0

    @property
    def demand_va(self) -> float:
        return sum(va for _, va in self.parts)

    @property
    def connected_va(self) -> float:
        if self.added:
            return 0.0
        return sum(entry.va for entry, _ in self.parts) + sum(entry.va for entry in self.left_out)

    @property
    def continuous_va(self) -> float:
        """The part of the demand that takes 125 % in sizing and does not contain it already."""
        if self.added:
            return 0.0
        return sum(va for entry, va in self.parts if entry.load.continuous and not entry.load.included_125)

    @property
    def count(self) -> int:
        return self.units or sum(entry.load.count for entry, _ in self.parts)


@dataclass(frozen=True, slots=True)
class NodeContext:
    """What a rule may need beside the loads: the edition, and whether the node has three phases with a neutral."""

    edition: Edition
    four_wire: bool


Rule = Callable[[Sequence[Counted], NodeContext], list[Demand]]


def share(loads: Sequence[Counted], demand_va: float, full_va: float) -> tuple[tuple[Counted, float], ...]:
    """The demand of a category over its loads in proportion; `demand_va` was found for `full_va`, the whole loads."""
    factor = demand_va / full_va if full_va else 0.0
    return tuple((entry, entry.va * factor) for entry in loads)


def full(loads: Sequence[Counted]) -> float:
    """VA of whole loads, whatever share of them hangs here."""
    return sum(entry.load.va or 0.0 for entry in loads)


def standard_demand(loads: Sequence[Counted], context: NodeContext) -> list[Demand]:
    """Every category at a node by the standard method, in the order in which the categories first appear.

    The engineer's own factors come as lines of their own, managed loads are capped, the 25 % of the largest motor is
    last (430.24, 440.33).
    """
    demands: list[Demand] = []
    own = [entry for entry in loads if entry.load.user_factor is not None]
    rest = [entry for entry in loads if entry.load.user_factor is None]
    for group in _grouped(rest):
        rule = RULES.get(group[0].load.kind, _in_full)
        demands.extend(rule(group, context))
    demands.extend(_by_engineer(own))
    demands = [_managed(demand) for demand in demands]
    demands.extend(_largest_motor(demands, context))
    return demands


def _grouped(loads: Iterable[Counted]) -> list[list[Counted]]:
    """Loads by the rule that they share: one group a kind, the dwelling lighting group and its appliances together."""
    groups: dict[str, list[Counted]] = {}
    for entry in loads:
        kind = entry.load.kind
        if kind in DWELLING_GROUP:
            key = DWELLING_LIGHTING
        elif kind in APPLIANCES and entry.load.dwelling:
            key = "dwelling appliances"
        else:
            key = kind
        groups.setdefault(key, []).append(entry)
    return list(groups.values())


def _in_full(loads: Sequence[Counted], context: NodeContext) -> list[Demand]:
    kind = loads[0].load.kind
    clause = FULL_CLAUSES.get(kind, "220.14(A)")
    return [Demand(kind, tuple((entry, entry.va) for entry in loads), "100 %", clause)]


FULL_CLAUSES = {
    "motor": "430.24",
    "hvac": "440.34",
    "cooling": "440.34",
    "heating": "220.51",
    "sign": "220.14(F)",
    "show-window": "220.46(A)",
    "track": "220.46(B)",
    "ev-charger": "220.57",
}


def _lighting(loads: Sequence[Counted], context: NodeContext) -> list[Demand]:
    """General lighting: occupancies that Table 220.45 names have their own steps, all others count in full."""
    groups: dict[tuple[object, ...], list[Counted]] = {}
    for entry in loads:
        steps = lighting_steps(context.edition, entry.load.occupancy)
        groups.setdefault(steps, []).append(entry)
    found = []
    for key, group in groups.items():
        steps = lighting_steps(context.edition, group[0].load.occupancy)
        assert steps == key
        total = full(group)
        factor = steps_text(steps)
        found.append(Demand("lighting", share(group, stepped_demand(total, steps), total), factor, "Table 220.45"))
    return found


def _dwelling_lighting(loads: Sequence[Counted], context: NodeContext) -> list[Demand]:
    """General lighting, small-appliance and laundry circuits of all dwelling units here, taken together (220.45)."""
    steps = lighting_steps(context.edition, "dwelling")
    total = full(loads)
    factor = f"lighting, small-appliance and laundry: {steps_text(steps)}"
    parts = share(loads, stepped_demand(total, steps), total)
    return [Demand(DWELLING_LIGHTING, parts, factor, "Table 220.45")]


def _receptacles(loads: Sequence[Counted], context: NodeContext) -> list[Demand]:
    """Receptacles by count in steps, those of patient care in steps of their own (220.110); those by floor area in
    full, and counted ones of an office not below 1 VA/ft2 (220.43)."""
    found = []
    by_floor = [entry for entry in loads if entry.load.by_floor]
    for category in dict.fromkeys(entry.load.care_category for entry in loads if not entry.load.by_floor):
        group = [entry for entry in loads if not entry.load.by_floor and entry.load.care_category == category]
        found.append(_stepped_receptacles(group, category, context))
    if by_floor:
        parts = tuple((entry, entry.va) for entry in by_floor)
        found.append(Demand("receptacles", parts, "by floor area: 100 %", "220.43"))
    return found


def _stepped_receptacles(loads: Sequence[Counted], care_category: int, context: NodeContext) -> Demand:
    steps, clause = receptacle_steps(context.edition, care_category)
    total = full(loads)
    demand = stepped_demand(total, steps)
    factor = steps_text(steps)
    least = sum(entry.load.floor_va for entry in loads)
    if least > demand:
        demand, factor, clause = min(least, max(total, least)), f"{factor}; at least 1 VA/ft2 of the floor", "220.43"
    if clause == "220.110":
        factor = f"patient care spaces of category {care_category}: {factor}"
    return Demand("receptacles", share(loads, demand, total), factor, clause)


def _kitchen(loads: Sequence[Counted], context: NodeContext) -> list[Demand]:
    rows = kitchen_rows(context.edition)
    pieces = [entry.load.each_va for entry in loads for _ in range(entry.load.count)]
    demand = kitchen_demand(pieces, rows)
    percent = factor_by_count(len(pieces), rows)
    two_largest = demand > sum(pieces) * percent / 100 + 1e-6
    several = "s" if len(pieces) > 1 else ""
    factor = "the two largest" if two_largest else f"{len(pieces)} piece{several} at {percent:g} %"
    return [Demand("kitchen", share(loads, demand, sum(pieces)), factor, "220.56")]


def _dwelling_appliances(loads: Sequence[Counted], context: NodeContext) -> list[Demand]:
    """Four and more appliances fastened in place at 75 %; from 2020 on only those of 500 W and more count (220.53)."""
    edition = context.edition
    least_va = rule_220(edition, "fastened_appliance_least_size") if edition.year >= 2020 else 0.0
    least_count = int(rule_220(edition, "fastened_appliances_least_count"))
    percent = rule_220(edition, "fastened_appliances_four_or_more")
    counted = [entry for entry in loads if entry.load.each_va >= least_va]
    pieces = [entry.load.each_va for entry in counted for _ in range(entry.load.count)]
    demand = fastened_appliances_va(pieces, least_count, percent)
    applies = len(pieces) >= least_count
    factor = f"{len(pieces)} fastened in place at {percent if applies else 100:g} %"
    found = []
    for kind in dict.fromkeys(entry.load.kind for entry in counted):
        own = [entry for entry in counted if entry.load.kind == kind]
        ratio = demand / sum(pieces) if sum(pieces) else 0.0
        found.append(Demand(kind, tuple((entry, entry.va * ratio) for entry in own), factor, "220.53"))
    small = [entry for entry in loads if entry not in counted]
    if small:
        parts = tuple((entry, entry.va) for entry in small)
        found.append(Demand("appliance", parts, f"under {least_va:g} W each: 100 %", "220.53"))
    return found


def _elevators(loads: Sequence[Counted], context: NodeContext) -> list[Demand]:
    """Elevators at their duty (430.22(E)), then the factor for their number (620.14)."""
    cars = sum(entry.load.count for entry in loads)
    factor = elevator_factor(context.edition, cars)
    parts = tuple((entry, elevator_demand([entry.va * entry.load.effective_factor], factor)) for entry in loads)
    words = f"{cars} car{'s' if cars > 1 else ''} at {factor * 100:g} %"
    return [Demand("elevator", parts, _duty_words(loads) + words, "620.14")]


def _motors(loads: Sequence[Counted], context: NodeContext) -> list[Demand]:
    """Motors in full; those of short-time, intermittent, periodic or varying duty at their share (430.24)."""
    parts = tuple((entry, entry.va * entry.load.effective_factor) for entry in loads)
    return [Demand("motor", parts, _duty_words(loads) + "100 %", "430.24")]


def _duty_words(loads: Sequence[Counted]) -> str:
    factors = dict.fromkeys(entry.load.effective_factor for entry in loads if entry.load.effective_factor != 1.0)
    return "".join(f"{factor * 100:.4g} % by duty, " for factor in factors)


def _welders(loads: Sequence[Counted], context: NodeContext) -> list[Demand]:
    """Welders by the part of their current that heats, several together by their number (630.11, 630.31)."""
    found = []
    for resistance in (False, True):
        group = [entry for entry in loads if entry.load.resistance_welder is resistance]
        if not group:
            continue
        effective = [
            entry.load.each_va * entry.load.effective_factor for entry in group for _ in range(entry.load.count)
        ]
        demand = resistance_welder_group(effective) if resistance else arc_welder_group(effective)
        words = "the largest, and 60 % of the others" if resistance else "100, 100, 85, 70, then 60 %"
        factor = "effective current by duty cycle" + (f"; {words}" if len(effective) > 1 else "")
        clause = "630.31" if resistance else "630.11(B)" if len(effective) > 1 else "630.11(A)"
        found.append(Demand("welder", share(group, demand, full(group)), factor, clause))
    return found


def _x_ray(loads: Sequence[Counted], context: NodeContext) -> list[Demand]:
    momentary = [entry.load.momentary_va for entry in loads for _ in range(entry.load.count)]
    longtime = [entry.load.longtime_va for entry in loads for _ in range(entry.load.count)]
    if not any(momentary):
        return _in_full(loads, context)
    demand = xray_feeder(momentary, longtime)
    several = "50 % of the largest momentary rating, 25 % of the next, 10 % of the others"
    factor = several if len(momentary) > 1 else "50 % of momentary, at least the long-time rating"
    return [Demand("x-ray", share(loads, demand, full(loads)), factor, "517.73(A)")]


def _measured(loads: Sequence[Counted], context: NodeContext) -> list[Demand]:
    percent = rule_220(context.edition, "measured_multiplier")
    parts = tuple((entry, entry.va * percent / 100) for entry in loads)
    return [Demand(MEASURED, parts, f"{percent:g} % of the measured demand", "220.87")]


def _ranges(loads: Sequence[Counted], context: NodeContext) -> list[Demand]:
    found = ranges(loads, context.edition, context.four_wire)
    return [Demand("range", share(found.loads, found.demand_va, full(loads)), found.words, "Table 220.55")]


def _dryers(loads: Sequence[Counted], context: NodeContext) -> list[Demand]:
    found = dryers(loads, context.edition, context.four_wire)
    return [Demand("dryer", share(found.loads, found.demand_va, full(loads)), found.words, "Table 220.54")]


def _by_count(loads: Sequence[Counted], context: NodeContext) -> list[Demand]:
    """Lots, sites and shore power receptacles: one factor for their number on the sum (550.31, 551.73(A), 555.6)."""
    kind = loads[0].load.kind
    rows, clause = by_count_rows(context.edition, kind)
    count = sum(entry.load.count for entry in loads)
    percent = factor_by_count(count, rows)
    parts = tuple((entry, entry.va * percent / 100) for entry in loads)
    return [Demand(kind, parts, f"{count} at {percent:g} %", clause)]


def _appliances(loads: Sequence[Counted], context: NodeContext) -> list[Demand]:
    return _dwelling_appliances(loads, context) if loads[0].load.dwelling else _in_full(loads, context)


RULES: dict[str, Rule] = {
    "lighting": _lighting,
    "receptacles": _receptacles,
    "kitchen": _kitchen,
    "elevator": _elevators,
    "motor": _motors,
    "welder": _welders,
    "x-ray": _x_ray,
    "range": _ranges,
    "dryer": _dryers,
    MEASURED: _measured,
    **dict.fromkeys(BY_COUNT, _by_count),
    **dict.fromkeys(DWELLING_GROUP, _dwelling_lighting),
    **dict.fromkeys(APPLIANCES, _appliances),
}


# --- across categories ---------------------------------------------------------------------------------------------


def _by_engineer(loads: Sequence[Counted]) -> list[Demand]:
    """Factors that the engineer states, each with its reason."""
    groups: dict[tuple[str, float, str], list[Counted]] = {}
    for entry in loads:
        assert entry.load.user_factor is not None
        groups.setdefault((entry.load.kind, entry.load.user_factor, entry.load.user_reason), []).append(entry)
    found = []
    for (kind, factor, reason), group in groups.items():
        words = f"{factor * 100:g} % by the engineer" + (f": {reason}" if reason else "")
        found.append(Demand(kind, tuple((entry, entry.va * factor) for entry in group), words, ""))
    return found


def _managed(demand: Demand) -> Demand:
    """Loads under a load management system together draw at most its limit, here and everywhere above."""
    groups: dict[str, float] = {}
    limits: dict[str, float] = {}
    for entry, va in demand.parts:
        if entry.load.managed:
            groups[entry.load.managed] = groups.get(entry.load.managed, 0.0) + va
            limits[entry.load.managed] = entry.load.managed_va
    ratios = {name: min(1.0, limits[name] / va) for name, va in groups.items() if va > 0}
    if not any(ratio < 1.0 for ratio in ratios.values()):
        return demand
    parts = tuple((entry, va * ratios.get(entry.load.managed, 1.0)) for entry, va in demand.parts)
    limit = sum(limits[name] for name in ratios)
    words = f"{demand.factor}; managed to {limit / 1000:.1f} kVA"
    return Demand(demand.category, parts, words, "625.42", demand.left_out)


def _largest_motor(demands: Sequence[Demand], context: NodeContext) -> list[Demand]:
    """25 % of the largest motor that runs at this node, once (430.24, 440.33, 220.50)."""
    percent = rule_220(context.edition, "largest_motor_added")
    candidates = [
        (entry, va / max(entry.load.count, 1))
        for demand in demands
        for entry, va in demand.parts
        if entry.load.motor and va > 0
    ]
    if not candidates:
        return []
    entry, each = max(candidates, key=lambda pair: pair[1])
    added = largest_motor_addition([each], percent)
    name = entry.load.tag or entry.load.name
    words = f"{percent:g} % of {name}"
    motors = tuple(candidates)
    return [Demand(LARGEST_MOTOR, ((entry, added),), words, "430.24", added=True, motors=motors, percent=percent)]
