"""What one load line amounts to in volt-amperes, by the unit loads of NEC 220.14 to 220.57."""

from __future__ import annotations

import math


def lighting_area_va(area_ft2: float, unit_va_per_ft2: float) -> float:
    """General lighting by floor area in VA (NEC 220.42(A); 220.41 for dwelling units)."""
    return area_ft2 * unit_va_per_ft2


def outlets_va(outlets: float, va_each: float = 180.0) -> float:
    """Receptacle outlets in VA (NEC 220.14(I))."""
    return outlets * va_each


def multioutlet_va(length_ft: float, simultaneous: bool, va: float = 180.0) -> float:
    """Fixed multioutlet assembly in VA: 180 VA for each 5 ft or part, each 1 ft or part where used together.

    NEC 220.14(H).
    """
    return math.ceil(length_ft / (1.0 if simultaneous else 5.0) - 1e-9) * va


def track_va(length_ft: float, va: float = 150.0) -> float:
    """Track lighting in VA: 150 VA for each 2 ft or part (NEC 220.46(B))."""
    return math.ceil(length_ft / 2.0 - 1e-9) * va


def show_window_va(length_ft: float, va_per_ft: float = 200.0) -> float:
    """Show-window lighting in VA for a feeder (NEC 220.46(A))."""
    return length_ft * va_per_ft


def apparent_va(current_a: float, volts: float, phases: int) -> float:
    """VA of a current at line-to-line volts (line-to-neutral for such a load)."""
    return current_a * volts * (math.sqrt(3) if phases == 3 else 1.0)


def current_a(va: float, volts: float, phases: int) -> float:
    """Current in A of a load of this many VA."""
    return va / (volts * (math.sqrt(3) if phases == 3 else 1.0))


def circuits_needed(load_va: float, circuit_va: float) -> int:
    """The number of circuits of this capacity that a load takes; at least one (NEC 210.11(A))."""
    return max(1, math.ceil(load_va / circuit_va - 1e-9))


def outlets_on_circuit(rating_a: float, volts: float, va_each: float = 180.0) -> int:
    """How many outlets one circuit takes: 10 on 15 A and 13 on 20 A at 120 V (NEC 220.14(I) with 210.11)."""
    return math.floor(rating_a * volts / va_each + 1e-9)
