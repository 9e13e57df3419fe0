"""Overcurrent devices: standard ratings, the continuous-load rule and the protection of conductors."""

from __future__ import annotations

from collections.abc import Sequence

# NEC 240.4(B), (C): above this rating the next standard size up is no longer allowed.
NEXT_SIZE_UP_LIMIT_A = 800.0


def next_standard_rating(needed_a: float, ratings: Sequence[float]) -> float | None:
    """The smallest standard rating not less than `needed_a` (A), or None above the largest (NEC 240.6(A)).

    A thousandth of an ampere of slack keeps 45.0000001 A, a rounding of arithmetic, from asking for 50 A.
    """
    return next((rating for rating in ratings if rating >= needed_a - 0.001), None)


def standard_rating_not_over(limit_a: float, ratings: Sequence[float]) -> float | None:
    """The largest standard rating not over `limit_a` (A), or None below the smallest (NEC 240.6(A))."""
    return next((rating for rating in reversed(ratings) if rating <= limit_a + 0.001), None)


def device_minimum(noncontinuous_a: float, continuous_a: float, hundred_percent_rated: bool = False) -> float:
    """The least rating of a device in A: noncontinuous plus 125 % of continuous load (NEC 210.20(A), 215.3, 230.42).

    An assembly listed for operation at 100 % of its rating needs no 25 % (the exceptions of those sections).
    """
    return noncontinuous_a + (1.0 if hundred_percent_rated else 1.25) * continuous_a


def greatest_device(ampacity_a: float, ratings: Sequence[float], next_size_up: bool = True) -> float | None:
    """The greatest device in A that protects conductors of this ampacity (NEC 240.4(B), (C)).

    Up to 800 A the next standard rating above the ampacity is allowed where the ampacity is no standard rating;
    `next_size_up` False where it is not: a multioutlet circuit of receptacles for cord-and-plug loads (240.4(B)(1)),
    transformer secondary conductors (240.21(C)) and taps (240.21(B)).
    """
    below = standard_rating_not_over(ampacity_a, ratings)
    if not next_size_up or (below is not None and abs(below - ampacity_a) < 0.001):
        return below
    above = next_standard_rating(ampacity_a, ratings)
    return above if above is not None and above <= NEXT_SIZE_UP_LIMIT_A else below


def conductor_is_protected(
    ampacity_a: float, device_a: float, ratings: Sequence[float], next_size_up: bool = True
) -> bool:
    """Whether a device of this rating protects conductors of this ampacity (NEC 240.4, 240.4(B), 240.4(C))."""
    if device_a <= ampacity_a + 0.001:
        return True
    greatest = greatest_device(ampacity_a, ratings, next_size_up)
    return greatest is not None and device_a <= greatest + 0.001
