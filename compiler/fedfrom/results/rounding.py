"""How far numbers are rounded when they leave the program, in one place: by the unit that ends their name."""

from __future__ import annotations

import math

# Ending of the name -> decimals. Finer than any of the values is known, coarse enough to hide the last bits of a sum.
DECIMALS: tuple[tuple[str, int], ...] = (
    ("_va", 1),
    ("_a", 2),
    ("_v", 3),
    ("_ft", 2),
    ("_pct", 3),
    ("_kva", 3),
    ("_ohm", 7),
    ("_ohm_per_kft", 6),
    ("_hp", 4),
)
OTHER_DECIMALS = 4


def decimals_of(name: str) -> int:
    """The decimals that a field of this name is rounded to."""
    return next((digits for ending, digits in DECIMALS if name.endswith(ending)), OTHER_DECIMALS)


def rounded(name: str, value: float | None) -> float | int | None:
    """`value` rounded as its name says; whole numbers as int, so that 20.0 is written `20`. None stays None.

    Raises ValueError for a number that is not finite: such a number is a bug in a pass and must not reach a reader.
    """
    if value is None:
        return None
    if not math.isfinite(value):
        raise ValueError(f"{name} is {value}")
    number = round(value, decimals_of(name))
    return int(number) if number == int(number) else number
