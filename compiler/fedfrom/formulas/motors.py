"""Motor, air-conditioning and welder circuits (NEC Articles 430, 440, 630)."""

from __future__ import annotations

from collections.abc import Sequence

from fedfrom.formulas.overcurrent import next_standard_rating, standard_rating_not_over


def motor_conductor(full_load_a: float, share: float = 1.25) -> float:
    """Least ampacity in A for one motor: 125 % of the table current at continuous duty (NEC 430.22), the `share` of
    Table 430.22(E) of its nameplate current at another duty."""
    return share * full_load_a


def motors_conductor(full_load_a: Sequence[float], other_a: float = 0.0, other_continuous_a: float = 0.0) -> float:
    """Least ampacity in A for several motors and other load (NEC 430.24).

    125 % of the largest motor, 100 % of the other motors and noncontinuous load, 125 % of continuous load.
    """
    largest = max(full_load_a, default=0.0)
    return sum(full_load_a) + 0.25 * largest + other_a + 1.25 * other_continuous_a


def motor_device(full_load_a: float, percent: float, ratings: Sequence[float]) -> float | None:
    """The greatest branch-circuit device in A by the table percentage (NEC 430.52(C)(1)).

    Where the percentage gives no standard rating, the next higher one is allowed.
    """
    return next_standard_rating(full_load_a * percent / 100, ratings)


def motor_device_ceiling(full_load_a: float, percent: float, ratings: Sequence[float]) -> float | None:
    """The absolute limit in A where the motor would not start: not over the larger percentage (NEC 430.52(C)(1))."""
    return standard_rating_not_over(full_load_a * percent / 100, ratings)


def motor_feeder_limit(largest_device_a: float, other_motors_a: float, other_load_a: float = 0.0) -> float:
    """The greatest feeder device in A before rounding down (NEC 430.62(A), 430.63).

    The largest branch-circuit device in the group plus the table currents of all other motors, plus other load.
    """
    return largest_device_a + other_motors_a + other_load_a


def overload_setting(nameplate_a: float, percent: float) -> float:
    """The overload trip in A from the nameplate current (NEC 430.32(A)(1)), not from the table."""
    return nameplate_a * percent / 100


def compressor_conductor(rated_load_a: float) -> float:
    """Least ampacity in A for one motor-compressor: 125 % of rated-load current (NEC 440.32)."""
    return 1.25 * rated_load_a


def compressor_device(rated_load_a: float, ratings: Sequence[float], percent: float = 175.0) -> float | None:
    """The greatest device in A for one motor-compressor, rounded down; 225 % if it won't start (NEC 440.22(A)).

    It need not be smaller than 15 A.
    """
    limit = max(rated_load_a * percent / 100, 15.0)
    return standard_rating_not_over(limit, ratings)


def welder_device_limit(rated_primary_a: float, resistance: bool = False) -> float:
    """The greatest device in A: 200 % of rated primary current for arc, 300 % for resistance (NEC 630.12, 630.32)."""
    return (3.0 if resistance else 2.0) * rated_primary_a


def welder_current(rated_primary_a: float, multiplier: float) -> float:
    """The current in A that conductors of one welder must carry (NEC 630.11(A), 630.31(A))."""
    return rated_primary_a * multiplier
