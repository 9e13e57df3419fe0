"""The demand of a load category as arithmetic: the words of its factor as figures that give the same result."""

from __future__ import annotations

import re

# What may differ by the rounding of the printed VA.
SLACK_VA = 1.0
_TIER = re.compile(r"(?:first|next) ([\d.]+) kVA at ([\d.]+) %")
_REST = re.compile(r"rest at ([\d.]+) %")
_SHARE = re.compile(r"(?:^|at )([\d.]+) %(?:$| of the measured demand)")
_LARGEST = re.compile(r"^25 % of ")


def demand_figures(connected_va: float, demand_va: float, factor: str) -> str:
    """ "10,000 x 1.00 + 13,040 x 0.50" for 23 040 VA at "first 10 kVA at 100 %, rest at 50 %"; "" where the words of
    the factor are no arithmetic (a table, a duty cycle), or do not give the demand."""
    own, _, left_out = factor.partition("; ")
    if left_out and "not at the same time" in left_out and own == "100 %":
        return f"{connected_va:,.0f} - {connected_va - demand_va:,.0f} VA"
    if _LARGEST.match(factor):
        return f"0.25 x {4 * demand_va:,.0f} VA"
    tiers = _tiers(connected_va, own)
    if not tiers or abs(sum(va * percent / 100 for va, percent in tiers) - demand_va) > SLACK_VA:
        return ""
    if all(percent == 100 for _, percent in tiers):
        return f"{connected_va:,.0f} VA"
    return " + ".join(f"{va:,.0f} x {percent / 100:.4g}" for va, percent in tiers) + " VA"


def _tiers(connected_va: float, factor: str) -> list[tuple[float, float]]:
    """(VA, percent) of each part of the load."""
    steps = [(float(limit) * 1000, float(percent)) for limit, percent in _TIER.findall(factor)]
    share = _SHARE.search(factor)
    if not steps:
        return [(connected_va, float(share[1]))] if share else []
    found, left = [], connected_va
    for limit, percent in steps:
        part = min(left, limit)
        if part > 0:
            found.append((part, percent))
        left -= part
    rest = _REST.search(factor)
    if left > 0 and rest:
        found.append((left, float(rest[1])))
    return found
