"""Motors, elevators, welders and x-ray equipment on one feeder."""

from __future__ import annotations

from collections.abc import Sequence


def motor_feeder_current(currents_a: Sequence[float], largest_added_pct: float = 25.0) -> float:
    """The least ampacity in A for several motors: the sum, and 25 % of the largest (NEC 430.24, 440.33, 220.50)."""
    return sum(currents_a) + largest_motor_addition(currents_a, largest_added_pct)


def largest_motor_addition(values: Sequence[float], largest_added_pct: float = 25.0) -> float:
    """What the largest of several motors adds to their sum, in the unit of `values`; 0 for none (NEC 430.24)."""
    return max(values, default=0.0) * largest_added_pct / 100


def elevator_demand(values: Sequence[float], factor: float) -> float:
    """The demand of several elevators on one feeder: the factor for their number on the sum (NEC 620.14)."""
    return sum(values) * factor


def arc_welder_group(effective: Sequence[float]) -> float:
    """The demand of several arc welders from their effective currents (or VA), any order.

    NEC 630.11(B), from memory: the two largest at 100 %, the third at 85 %, the fourth at 70 %, the rest at 60 %.
    """
    shares = (1.0, 1.0, 0.85, 0.70)
    ordered = sorted(effective, reverse=True)
    return sum(value * (shares[index] if index < len(shares) else 0.60) for index, value in enumerate(ordered))


def resistance_welder_group(effective: Sequence[float]) -> float:
    """The demand of several resistance welders: the largest, and 60 % of the others (NEC 630.31(B), from memory)."""
    ordered = sorted(effective, reverse=True)
    return sum(ordered[:1]) + 0.60 * sum(ordered[1:])


def xray_branch(momentary: float, longtime: float) -> float:
    """The load of one x-ray branch circuit: half of the momentary or all of the long-time rating.

    NEC 517.73(A)(1), from memory; in the unit of the ratings.
    """
    return max(0.5 * momentary, longtime)


def xray_feeder(momentary: Sequence[float], longtime: Sequence[float]) -> float:
    """The load of an x-ray feeder: 50 % of the largest momentary rating, 25 % of the next, 10 % of the others.

    NEC 517.73(A)(2), from memory; never less than the sum of the long-time ratings. One unit: its branch load.
    """
    if len(momentary) == 1:
        return xray_branch(momentary[0], longtime[0])
    shares = (0.5, 0.25)
    ordered = sorted(momentary, reverse=True)
    by_momentary = sum(value * (shares[index] if index < 2 else 0.10) for index, value in enumerate(ordered))
    return max(by_momentary, sum(longtime))
