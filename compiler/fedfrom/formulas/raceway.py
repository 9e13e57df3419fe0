"""Raceway fill (NEC Chapter 9, Table 1 and its notes)."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

NIPPLE_FILL_PCT = 60.0  # NEC Chapter 9, Note 4: nipples to 24 in


def conductors_area(conductors: Iterable[tuple[float, int]]) -> float:
    """The area in in2 of conductors given as (area of one in in2, number)."""
    return sum(area * count for area, count in conductors)


def fill_pct(total_in2: float, inside_in2: float) -> float:
    """The share of a raceway's inside area that is filled, in percent."""
    return 100.0 * total_in2 / inside_in2


def smallest_raceway(
    total_in2: float, limit_pct: float, trade_sizes: Sequence[tuple[str, float]], smallest: str = ""
) -> tuple[str, float] | None:
    """The smallest trade size that takes these conductors, with its fill in percent; None if none does.

    `trade_sizes`: (name, inside area in in2), smallest first; `smallest`: a trade size below which none is chosen.
    """
    allowed = not smallest or smallest not in {name for name, _ in trade_sizes}
    for name, inside in trade_sizes:
        allowed = allowed or name == smallest
        fill = fill_pct(total_in2, inside)
        if allowed and fill <= limit_pct + 0.005:
            return name, fill
    return None
