"""Demand factors in steps: so much of the load at one percentage, the next part at another."""

from __future__ import annotations

from collections.abc import Sequence

Step = tuple[float, float | None, float]  # from (VA), up to (VA, None: no end), percent


def stepped_demand(load_va: float, steps: Sequence[Step]) -> float:
    """The demand in VA of a load taken in steps.

    NEC Tables 220.45 (lighting) and 220.47 (receptacles), and 220.82(B): each step applies to its own part only.
    """
    demand = 0.0
    for low, high, percent in steps:
        part = min(load_va, high if high is not None else load_va) - low
        if part > 0:
            demand += part * percent / 100
    return demand


def steps_text(steps: Sequence[Step]) -> str:
    """The steps in words: "first 10 kVA at 100 %, rest at 50 %"."""
    if len(steps) == 1:
        return f"{steps[0][2]:g} %"
    words = []
    for number, (low, high, percent) in enumerate(steps):
        if high is None:
            words.append(f"rest at {percent:g} %")
        elif number == 0:
            words.append(f"first {high / 1000:g} kVA at {percent:g} %")
        else:
            words.append(f"next {(high - low) / 1000:g} kVA at {percent:g} %")
    return ", ".join(words)


def factor_by_count(count: int, rows: Sequence[tuple[int, int | None, float]]) -> float:
    """The percentage for a number of pieces, from rows (first, last or None, percent).

    NEC Tables 220.54, 220.56 and 220.84. Raises ValueError for a number that no row covers.
    """
    for first, last, percent in rows:
        if count >= first and (last is None or count <= last):
            return percent
    raise ValueError(f"no demand factor for {count}")


def kitchen_demand(loads_va: Sequence[float], rows: Sequence[tuple[int, int | None, float]]) -> float:
    """The demand in VA of commercial kitchen equipment: the factor for its number, never under the two largest.

    NEC 220.56. `loads_va`: each piece.
    """
    if not loads_va:
        return 0.0
    percent = factor_by_count(len(loads_va), rows)
    return max(sum(loads_va) * percent / 100, sum(sorted(loads_va, reverse=True)[:2]))


def school_demand(load_va: float, area_ft2: float, steps: Sequence[Step]) -> float:
    """The demand in VA of a school by the optional method: the connected VA a square foot in steps (NEC 220.86)."""
    return stepped_demand(load_va / area_ft2, steps) * area_ft2


def restaurant_demand(load_kva: float, rows: Sequence[tuple[float, float | None, float, float, float]]) -> float:
    """The demand in kVA of a new restaurant by the optional method (NEC 220.88).

    Rows: (from kVA, to kVA, base kVA, percent of the excess, excess over kVA) for the kind of restaurant.
    """
    for low, high, base_kva, percent, over_kva in rows:
        if load_kva >= low and (high is None or load_kva <= high):
            return base_kva + (load_kva - over_kva) * percent / 100
    raise ValueError(f"no row for {load_kva} kVA")


def farm_building_demand(total: float, base: float, step: float, step_pct: float, rest_pct: float) -> float:
    """The demand of a farm building: `base` in full, the next `step` at `step_pct`, what is left at `rest_pct`.

    NEC Table 220.102 (from memory); in the unit of `total`.
    """
    above = max(total - base, 0.0)
    return base + min(above, step) * step_pct / 100 + max(above - step, 0.0) * rest_pct / 100
