"""How long an insulated conductor stands a fault current, by the heat that it takes up (ICEA P-32-382)."""

from __future__ import annotations

import math


def withstand_seconds(
    fault_a: float, area_kcmil: float, constant: float, zero_c: float, start_c: float, end_c: float
) -> float:
    """Seconds until the conductor has gone from `start_c` to `end_c`, no heat lost on the way.

    (I / A)^2 t = constant * log10((end + zero) / (start + zero)); I in A, A in circular mils. `zero_c` is the
    temperature, below zero, at which the metal would have no resistance (234 copper, 228 aluminum).
    """
    rise = math.log10((end_c + zero_c) / (start_c + zero_c))
    return constant * rise * (area_kcmil * 1000.0 / fault_a) ** 2


def withstand_amperes(
    seconds: float, area_kcmil: float, constant: float, zero_c: float, start_c: float, end_c: float
) -> float:
    """The fault current that the conductor stands for so long, A: `withstand_seconds` turned round."""
    rise = math.log10((end_c + zero_c) / (start_c + zero_c))
    return area_kcmil * 1000.0 * math.sqrt(constant * rise / seconds)
