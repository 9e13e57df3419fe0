"""Voltage drop of a single-phase three-wire run: two lines and a neutral, each with what it really carries.

Of 120/240 V the two line currents cancel in the neutral when they are equal; of 120/208 V, two lines of a wye, the
neutral always carries about as much as a line, so a line-to-neutral load loses half as much again as the line-to-line
form says (1.5 against 1.0 for a resistance, in percent of its own voltage).
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass

from fedfrom.formulas.voltage_drop import DropError

MOST_ROUNDS = 200
CLOSE_ENOUGH = 1e-12


@dataclass(frozen=True, slots=True)
class ThreeWireLoad:
    """Potentials of the lines A and B against the neutral, V, and the load A-N, B-N and A-B, VA (all of one power
    factor)."""

    point_a: complex
    point_b: complex
    a_va: float
    b_va: float
    ab_va: float


@dataclass(frozen=True, slots=True)
class LostVoltage:
    """What one pair of conductors loses: `between` "A-N", "B-N" or "A-B", V, percent of its nominal voltage, A."""

    between: str
    nominal_v: float
    lost_v: float
    percent: float


def three_wire_drop(
    load: ThreeWireLoad, power_factor: float, line: complex, neutral: complex
) -> tuple[LostVoltage, ...]:
    """The drop of every pair that carries a load, in the order A-N, B-N, A-B; exact (phasor) form.

    `line` and `neutral`: R + jX of one conductor over the run, ohm, hot. Currents have the size that the loads take at
    nominal voltage and lag the voltage at their own terminals, as in the exact form of IEEE Std 141 (see
    `voltage_drop`), which this equals for a balanced 120/240 V run. Raises DropError where the run cannot carry the
    load or the power factor lies outside 0..1.
    """
    if not 0.0 <= power_factor <= 1.0:
        raise DropError(f"a power factor lies between 0 and 1, not {power_factor:g}")
    a, b, middle = _solve(load, math.acos(power_factor), line, neutral)
    pairs = (
        ("A-N", load.a_va, abs(load.point_a), abs(a - middle)),
        ("B-N", load.b_va, abs(load.point_b), abs(b - middle)),
        ("A-B", load.ab_va, abs(load.point_a - load.point_b), abs(a - b)),
    )
    return tuple(
        LostVoltage(between, nominal, nominal - there, 100.0 * (nominal - there) / nominal)
        for between, va, nominal, there in pairs
        if va > 0
    )


def worst_drop(lost: tuple[LostVoltage, ...]) -> LostVoltage | None:
    """The pair that loses most, in percent; None without load."""
    return max(lost, key=lambda pair: pair.percent) if lost else None


def _solve(load: ThreeWireLoad, angle: float, line: complex, neutral: complex) -> tuple[complex, complex, complex]:
    """Potentials of A, B and the neutral at the load end, by substitution until they stand still."""
    a, b, middle = load.point_a, load.point_b, 0j
    for _ in range(MOST_ROUNDS):
        in_a = _current(load.a_va, abs(load.point_a), a - middle, angle)
        in_b = _current(load.b_va, abs(load.point_b), b - middle, angle)
        across = _current(load.ab_va, abs(load.point_a - load.point_b), a - b, angle)
        new_a = load.point_a - line * (in_a + across)
        new_b = load.point_b - line * (in_b - across)
        new_middle = neutral * (in_a + in_b)
        moved = abs(new_a - a) + abs(new_b - b) + abs(new_middle - middle)
        a, b, middle = new_a, new_b, new_middle
        if moved < CLOSE_ENOUGH * abs(load.point_a):
            return a, b, middle
    raise DropError("the load is beyond what the run can supply")


def _current(va: float, nominal_v: float, there: complex, angle: float) -> complex:
    if va == 0:
        return 0j
    if abs(there) < 0.5 * nominal_v:
        raise DropError("the run loses more than half of its voltage")
    return cmath.rect(va / nominal_v, cmath.phase(there) - angle)
