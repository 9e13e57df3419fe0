"""Fault currents from sequence impedances, and multiplying factors for a high X/R; rms symmetrical A."""

from __future__ import annotations

import math
from enum import Enum


def three_phase_fault(line_to_line_v: float, z1: complex) -> float:
    """Bolted three-phase fault, A: E_LL / (sqrt(3) |Z1|). Infinite for no impedance."""
    return _over(line_to_line_v / math.sqrt(3), z1)


def line_line_fault(line_to_line_v: float, z1: complex) -> float:
    """Bolted line-to-line fault, A: E_LL / |2 Z1|, with Z2 = Z1 (0.866 of the three-phase fault)."""
    return _over(line_to_line_v, 2.0 * z1)


def line_ground_fault(line_to_neutral_v: float, z1: complex, z0: complex) -> float:
    """Bolted line-to-ground (line-to-neutral) fault, A: 3 E_LN / |2 Z1 + Z0|, with Z2 = Z1.

    Source: symmetrical components; worked case in the Electric Power Engineering Handbook (2006), 4.3.2.
    """
    return _over(3.0 * line_to_neutral_v, 2.0 * z1 + z0)


def asymmetrical_rms(symmetrical_a: float, x_over_r: float, cycles: float) -> float:
    """Total rms current with full offset after `cycles`, A: I sqrt(1 + 2 exp(-4 pi t / (X/R)))."""
    return symmetrical_a * math.sqrt(1.0 + 2.0 * math.exp(-4.0 * math.pi * cycles / x_over_r))


def point_to_point(fault_a: float, line_to_line_v: float, z: complex, phases: int = 3) -> float:
    """The hand method that adds magnitudes: I / (1 + f), f = factor I |Z| / E. Never above the complex result.

    `z` of one conductor; factor sqrt(3) for 3-phase, 2 for a two-conductor loop. For cross-checks only.
    """
    factor = math.sqrt(3) if phases == 3 else 2.0
    return fault_a / (1.0 + factor * fault_a * abs(z) / line_to_line_v)


class InterruptingTest(Enum):
    """Kinds of device that differ in the power factor of their interrupting test."""

    MOLDED_CASE = "molded case"
    POWER_UNFUSED = "power breaker, unfused"
    POWER_FUSED = "power breaker, fused"


def power_factor_of_test(basis: InterruptingTest, interrupting_a: float) -> float:
    """Power factor of the interrupting test, the upper limit of its range (the lowest X/R it may have been tested at).

    Source: UL 489 and IEEE C37.13 limits as tabulated in TSEWG TP-6 (2008), tables 1 and 2.
    """
    if basis is InterruptingTest.POWER_UNFUSED:
        return 0.15
    if basis is InterruptingTest.POWER_FUSED:
        return 0.20
    if interrupting_a <= 10_000:
        return 0.50
    return 0.30 if interrupting_a <= 20_000 else 0.20


def x_over_r_of_power_factor(power_factor: float) -> float:
    """X/R = tan(arccos(power factor))."""
    return math.tan(math.acos(power_factor))


def multiplying_factor(basis: InterruptingTest, interrupting_a: float, x_over_r: float | None) -> float:
    """What the symmetrical fault is multiplied by before it is held against a rating, 1.0 or more.

    `x_over_r` of the circuit, None for all reactance. Molded case: first-half-cycle peak ratio to the test circuit's.
    Source: thresholds published (IEEE C37.13-2008 and IEEE Std 242 as described in a trade article); the formulas
    from memory, they give 1.001 and 0.998 at the published thresholds 6.6 and 4.9.
    """
    ratio = math.inf if x_over_r is None else x_over_r
    if ratio <= 0:
        return 1.0
    offset = math.exp(-math.pi / ratio)
    if basis is InterruptingTest.POWER_UNFUSED:
        return max(1.0, math.sqrt(2) * (1.0 + offset) / 2.29)
    if basis is InterruptingTest.POWER_FUSED:
        return max(1.0, math.sqrt(1.0 + 2.0 * offset**2) / 1.25)
    test_ratio = x_over_r_of_power_factor(power_factor_of_test(basis, interrupting_a))
    return max(1.0, (1.0 + offset) / (1.0 + math.exp(-math.pi / test_ratio)))


def series_motor_limit(lower_interrupting_a: float) -> float:
    """Most motor full-load current, A, between the devices of a series-rated pair: 1 % of the lower rating.

    Source: NEC 240.86(C).
    """
    return 0.01 * lower_interrupting_a


def _over(volts: float, z: complex) -> float:
    magnitude = abs(z)
    return volts / magnitude if magnitude > 0 else math.inf
