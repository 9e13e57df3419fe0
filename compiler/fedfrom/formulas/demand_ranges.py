"""Household cooking equipment and dryers: NEC 220.54 and 220.55."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

LEAST_KW, LARGEST_KW = 1.75, 27.0  # what Table 220.55 covers, over the one and to the other


@dataclass(frozen=True, slots=True)
class RangeRow:
    """A row of Table 220.55: numbers `first` to `last`; columns A and B in percent, column C = base + count x added."""

    first: int
    last: int | None
    column_a_pct: float
    column_b_pct: float
    column_c_base_kw: float
    column_c_added_kw: float


def column_c_kw(count: int, rows: Sequence[RangeRow]) -> float:
    """The demand in kW of `count` ranges not over 12 kW each (Table 220.55, column C). 0 for none."""
    if count == 0:
        return 0.0
    row = _row(count, rows)
    return row.column_c_base_kw + row.column_c_added_kw * count


def _row(count: int, rows: Sequence[RangeRow]) -> RangeRow:
    return next(row for row in rows if count >= row.first and (row.last is None or count <= row.last))


def round_half_up(value: float) -> int:
    """Whole kilowatts, a half and more counting as one ("major fraction")."""
    return math.floor(value + 0.5)


def range_demand_kw(ratings_kw: Sequence[float], rows: Sequence[RangeRow], increase_pct_per_kw: float = 5.0) -> float:
    """The demand in kW of household ranges, ovens and cooktops on one feeder.

    NEC 220.55 with its notes: column C, raised for ratings over 12 kW (notes 1 and 2); where ratings are not over
    8.75 kW, columns A and B on the nameplates instead (note 3); the least of what is permitted. Ratings of 1.75 kW and
    less and over 27 kW are not covered by the table and count in full.
    """
    covered = [kw for kw in ratings_kw if LEAST_KW < kw <= LARGEST_KW]
    in_full = sum(kw for kw in ratings_kw if not LEAST_KW < kw <= LARGEST_KW)
    if not covered:
        return in_full
    by_column_c = _column_c_raised(covered, rows, increase_pct_per_kw)
    return in_full + min(by_column_c, _by_nameplate(covered, rows, increase_pct_per_kw))


def _column_c_raised(ratings_kw: Sequence[float], rows: Sequence[RangeRow], increase_pct_per_kw: float) -> float:
    if not ratings_kw:
        return 0.0
    base = column_c_kw(len(ratings_kw), rows)
    average = sum(max(kw, 12.0) for kw in ratings_kw) / len(ratings_kw)
    return base * (1 + increase_pct_per_kw / 100 * round_half_up(average - 12))


def _by_nameplate(ratings_kw: Sequence[float], rows: Sequence[RangeRow], increase_pct_per_kw: float) -> float:
    """Note 3: columns A (under 3.5 kW) and B (to 8.75 kW) on the nameplates, column C for the rest."""
    low = [kw for kw in ratings_kw if kw < 3.5]
    middle = [kw for kw in ratings_kw if 3.5 <= kw <= 8.75]
    high = [kw for kw in ratings_kw if kw > 8.75]
    demand = _column_c_raised(high, rows, increase_pct_per_kw)
    if low:
        demand += sum(low) * _row(len(low), rows).column_a_pct / 100
    if middle:
        demand += sum(middle) * _row(len(middle), rows).column_b_pct / 100
    return demand


def dryer_demand_va(ratings_va: Sequence[float], percent: float) -> float:
    """The demand in VA of household dryers: the factor for their number on the sum (NEC 220.54)."""
    return sum(ratings_va) * percent / 100


def three_phase_basis(between_phases: Sequence[int]) -> int:
    """The number of appliances to look up for single-phase ranges or dryers on a 3-phase, 4-wire feeder.

    Twice the greatest number connected between any two phases (NEC 220.54 and 220.55). `between_phases`: A-B, B-C, C-A.
    """
    return 2 * max(between_phases)


def three_phase_range_kw(demand_kw: float) -> float:
    """The three-phase load of ranges from the demand of `three_phase_basis` of them: one phase's share three times.

    NEC Annex D, Example D5(a): half of the table's demand is the load of one phase.
    """
    return demand_kw / 2 * 3
