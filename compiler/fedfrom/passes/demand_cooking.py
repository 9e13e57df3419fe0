"""Household ranges and dryers at one node, also on three-phase feeders (220.54, 220.55)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fedfrom.formulas.demand_ranges import (
    dryer_demand_va,
    range_demand_kw,
    three_phase_basis,
    three_phase_range_kw,
)
from fedfrom.formulas.load_phases import THREE_PAIRS, evenly
from fedfrom.passes.demand_tables import dryer_percent, range_rows
from fedfrom.passes.load_gather import Counted
from fedfrom.tables import Edition


@dataclass(frozen=True, slots=True)
class Cooking:
    """Demand in VA of household ranges or dryers at a node, the factor in words, and the loads that it was found for.

    Found from the number between two phases it holds for every phase: the loads then count evenly on the three pairs.
    """

    demand_va: float
    words: str
    loads: tuple[Counted, ...]


def ranges(loads: Sequence[Counted], edition: Edition, four_wire: bool) -> Cooking:
    """Ranges, ovens and cooktops at a node."""
    ratings = [entry.load.each_va / 1000 for entry in loads for _ in range(entry.load.count)]
    rows = range_rows(edition)
    pairs = _between_phases(loads)
    if four_wire and len(ratings) > 1 and sum(pairs) == len(ratings):
        basis = three_phase_basis(pairs)
        average = sum(ratings) / len(ratings)
        demand = three_phase_range_kw(range_demand_kw([average] * basis, rows))
        words = f"{len(ratings)} ranges, {max(pairs)} between two phases: table for {basis}, half of it for each phase"
        return Cooking(min(demand, sum(ratings)) * 1000, words, _on_three_pairs(loads))
    demand = range_demand_kw(ratings, rows)
    several = "s" if len(ratings) > 1 else ""
    return Cooking(demand * 1000, f"{len(ratings)} range{several}: {demand:g} kW by table", tuple(loads))


def dryers(loads: Sequence[Counted], edition: Edition, four_wire: bool) -> Cooking:
    """Clothes dryers at a node."""
    ratings = [entry.load.each_va for entry in loads for _ in range(entry.load.count)]
    pairs = _between_phases(loads)
    if four_wire and len(ratings) > 1 and sum(pairs) == len(ratings):
        basis = three_phase_basis(pairs)
        percent = dryer_percent(edition, basis)
        average = sum(ratings) / len(ratings)
        demand = dryer_demand_va([average] * basis, percent) / 2 * 3
        words = f"{len(ratings)} dryers, {max(pairs)} between two phases: {basis} at {percent:g} %, half for each phase"
        return Cooking(min(demand, sum(ratings)), words, _on_three_pairs(loads))
    percent = dryer_percent(edition, len(ratings))
    several = "s" if len(ratings) > 1 else ""
    words = f"{len(ratings)} dryer{several} at {percent:g} %"
    return Cooking(dryer_demand_va(ratings, percent), words, tuple(loads))


def _on_three_pairs(loads: Sequence[Counted]) -> tuple[Counted, ...]:
    return tuple(replace(entry, even_on=evenly(entry.on_phases, pairs=THREE_PAIRS)) for entry in loads)


def _between_phases(loads: Sequence[Counted]) -> tuple[int, int, int]:
    """How many pieces hang between A-B, B-C and C-A."""
    counts = [0, 0, 0]
    for entry in loads:
        across = entry.on_phases[3:6]
        total = sum(across)
        if total <= 0:
            continue
        for index, va in enumerate(across):
            counts[index] += round(entry.load.count * va / total)
    return counts[0], counts[1], counts[2]
