"""The neutral load of a feeder or service: NEC 220.61."""

from __future__ import annotations


def reduced_neutral(
    linear_a: float, nonlinear_a: float = 0.0, above_a: float = 200.0, percent: float = 70.0, may_reduce: bool = True
) -> float:
    """The neutral load in A after the reduction of the part above 200 A.

    NEC 220.61(B) and (C): only the linear part over 200 A is reduced; nothing is for a 3-wire circuit of two phases and
    the neutral of a wye system (`may_reduce` False).
    """
    total = linear_a + nonlinear_a
    if not may_reduce or total <= above_a:
        return total
    reducible = min(total - above_a, linear_a)
    return total - reducible * (1 - percent / 100)


def neutral_load_va(
    lighting_demand_va: float, range_demand_va: float, dryer_demand_va: float, other_va: float
) -> float:
    """The neutral load in VA of a dwelling: cooking and drying at 70 % of their demand (NEC 220.61(B))."""
    return lighting_demand_va + 0.70 * (range_demand_va + dryer_demand_va) + other_va
