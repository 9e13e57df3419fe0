"""Grounding and bonding conductors: proportional increase, caps by electrode, bonding jumpers of sets."""

from __future__ import annotations

# NEC 250.66(A), (B): largest size asked for where the conductor runs only to such electrodes, copper.
ROD_CAP_CU = "6"
CONCRETE_CAP_CU = "4"


def increase_ratio(used_kcmil: float, needed_kcmil: float) -> float:
    """By how much the phase conductors exceed the size that ampacity alone asks for, not below 1 (NEC 250.122(B))."""
    return max(used_kcmil / needed_kcmil, 1.0)


def increased_ground_area(table_kcmil: float, used_kcmil: float, needed_kcmil: float) -> float:
    """The area in kcmil of an equipment grounding conductor enlarged with the phase conductors (NEC 250.122(B)).

    Never more than the phase conductors themselves (250.122(A)). The exact ratio is kept: rounding it up first would
    ask for a size too many.
    """
    return min(table_kcmil * increase_ratio(used_kcmil, needed_kcmil), used_kcmil)


def supply_area(phase_kcmil: float, sets: int, each_raceway: bool) -> float:
    """The area in kcmil that a bonding jumper is chosen by (NEC 250.102(C)(1), (C)(2)).

    One jumper for all sets goes by the area of all sets; a jumper in each raceway goes by the conductors in it.
    """
    return phase_kcmil if each_raceway else phase_kcmil * sets
