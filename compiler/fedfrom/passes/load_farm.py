"""Farm loads: the demand of one building (Table 220.102) and of the farm's service (Table 220.103)."""

from __future__ import annotations

from collections.abc import Sequence

from fedfrom.formulas.demand_steps import farm_building_demand
from fedfrom.passes.demand_tables import farm_building_row, farm_ranks
from fedfrom.passes.load_demand import Demand, NodeContext, full, share, standard_demand
from fedfrom.passes.load_gather import Counted

FARM_VOLTS = 240.0  # the tables are in amperes at this voltage


def building_demand(loads: Sequence[Counted], context: NodeContext) -> list[Demand]:
    """220.102: what runs together, 125 % of the largest motor or the first 60 A in full, then 60 A at 50 %, 25 %."""
    if not loads:
        return []
    demand, words = _building_va(loads, context)
    return [Demand("farm building", share(loads, demand, full(loads)), words, "220.102")]


def farm_demand(loads: Sequence[Counted], context: NodeContext) -> list[Demand]:
    """220.103: the buildings by the size of their demand at 100, 75, 65, then 50 %; the dwelling on top as it is."""
    dwelling = [entry for entry in loads if entry.load.dwelling]
    buildings: dict[str, list[Counted]] = {}
    for entry in loads:
        if not entry.load.dwelling:
            buildings.setdefault(entry.load.gear, []).append(entry)
    own = {tag: _building_va(entries, context)[0] for tag, entries in buildings.items()}
    ranks = farm_ranks(context.edition)
    found = []
    ordered = sorted(own, key=lambda tag: -own[tag])
    for place, tag in enumerate(ordered):
        percent = ranks[min(place, len(ranks) - 1)]
        words = f"{tag}: {own[tag]:,.0f} VA by 220.102, number {place + 1} in size, at {percent:g} %"
        parts = share(buildings[tag], own[tag] * percent / 100, full(buildings[tag]))
        found.append(Demand("farm building", parts, words, "220.103"))
    return [*found, *standard_demand(dwelling, context)]


def _building_va(loads: Sequence[Counted], context: NodeContext) -> tuple[float, str]:
    """(demand in VA, the factor in words) of one building."""
    first_a, next_a, next_pct, rest_pct = farm_building_row(context.edition)
    together = sum(entry.load.va or 0.0 for entry in loads if entry.load.simultaneous)
    motor = max((entry.load.each_va for entry in loads if entry.load.motor), default=0.0)
    total = full(loads)
    base = max(together, 1.25 * motor, min(total, first_a * FARM_VOLTS))
    demand = farm_building_demand(total, base, next_a * FARM_VOLTS, next_pct, rest_pct)
    reason = f"the first {first_a:g} A"
    if base == together and together:
        reason = "what runs together"
    elif base == 1.25 * motor and motor:
        reason = "125 % of the largest motor"
    words = f"{reason} ({base:,.0f} VA) at 100 %, the next {next_a:g} A at {next_pct:g} %, rest at {rest_pct:g} %"
    return demand, words
