"""Impedances of what lies in a fault path: sources, transformers, conductors, generators, motors; all R + jX in ohm.

Ohm to neutral at the voltage named: E / (sqrt(3) Z1) is a three-phase fault. For a single-phase circuit the value is
half of the loop, so that the line-to-line loop is 2 Z1 for both.
"""

from __future__ import annotations

import math


class ImpedanceError(ValueError):
    """An argument that has no impedance: zero fault current, zero power, a negative X/R."""


def from_magnitude(z: float, x_over_r: float) -> complex:
    """R + jX of magnitude `z` at the ratio X/R (infinite X/R: all reactance). Raises ImpedanceError for X/R < 0."""
    if x_over_r < 0:
        raise ImpedanceError(f"X/R cannot be negative, as {x_over_r:g}")
    if math.isinf(x_over_r):
        return complex(0.0, z)
    r = z / math.hypot(1.0, x_over_r)
    return complex(r, r * x_over_r)


def x_over_r(z: complex) -> float | None:
    """X/R of an impedance, None where it is all reactance (or nothing)."""
    return z.imag / z.real if z.real > 0 else None


def source_from_current(fault_a: float, line_to_line_v: float, ratio: float, phases: int = 3) -> complex:
    """Source impedance from a fault current at its terminals, ohm to neutral.

    Three-phase: E_LL / (sqrt(3) I). Single-phase: the line-to-line fault, half of E_LL / I. Raises ImpedanceError.
    """
    if fault_a <= 0:
        raise ImpedanceError(f"a fault current is greater than zero, not {fault_a:g} A")
    divisor = math.sqrt(3) if phases == 3 else 2.0
    return from_magnitude(line_to_line_v / (divisor * fault_a), ratio)


def source_from_mva(fault_va: float, line_to_line_v: float, ratio: float) -> complex:
    """Three-phase source impedance from its fault level in VA, seen at `line_to_line_v`: E^2 / S. ImpedanceError."""
    if fault_va <= 0:
        raise ImpedanceError(f"a fault level is greater than zero, not {fault_va:g} VA")
    return from_magnitude(line_to_line_v**2 / fault_va, ratio)


def transformer(impedance_pct: float, rating_va: float, secondary_v: float, ratio: float, phases: int = 3) -> complex:
    """Transformer impedance seen at its secondary (line-to-line V), ohm to neutral (single-phase: half the winding).

    Raises ImpedanceError for a rating of zero. Source: definition of percent impedance, IEEE Std C57.12.80.
    """
    if rating_va <= 0 or impedance_pct < 0:
        raise ImpedanceError("a transformer has a rating above zero and an impedance that is not negative")
    z = from_magnitude(impedance_pct / 100.0 * secondary_v**2 / rating_va, ratio)
    return z if phases == 3 else z / 2.0


def half_winding(winding: complex) -> complex:
    """Loop of one half of a center-tapped winding, ohm, from the whole one (`winding`: half of the 240 V loop).

    1.5 R and 1.2 X on the base of the whole winding, turns squared a quarter: from memory; the published limits 1.33
    and 1.67 of the ratio of the two faults follow from them. Where the nameplate gives the half winding, that holds.
    """
    whole = 2.0 * winding
    return complex(1.5 * whole.real, 1.2 * whole.imag) / 4.0


def center_tap_zero_sequence(primary_side: complex, winding: complex, half: complex | None = None) -> complex:
    """Z0 at a 120/240 V center tap such that (2 Z1 + Z0) / 3 is the loop of one half winding.

    `primary_side` = what lies ahead, `winding` = the transformer (both as this module gives them: half of the 240 V
    loop). `half` is the loop of one half winding, ohm, where it is known; else as `half_winding` takes it.
    """
    half_loop = (half_winding(winding) if half is None else half) + primary_side / 2.0
    return 3.0 * half_loop - 2.0 * (primary_side + winding)


def high_leg_zero_sequence(primary_side: complex, winding: complex, half: complex | None = None) -> complex:
    """Z0 at a 240/120 V high-leg delta such that (2 Z1 + Z0) / 3 is the loop from a lighting line to the neutral.

    For a closed bank of three equal windings. `winding` is the bank's Z1 (a third of one winding). With the half
    winding as in `center_tap_zero_sequence`, 5/6 of the fault current come through the faulted half and 1/6 through the
    other two windings, so the loop is Zhalf - Zwinding / 12; the source sees half a line-to-line fault: Zsource / 2.
    Derived by us from the star equivalent of a three-winding transformer; no published example.
    """
    whole = 3.0 * winding
    known = half_winding(1.5 * winding) if half is None else half
    half_loop = known - whole / 12.0 + primary_side / 2.0
    return 3.0 * half_loop - 2.0 * (primary_side + winding)


def rotating_machine(reactance_pct: float, rating_va: float, line_to_line_v: float, ratio: float) -> complex:
    """Generator or motor from its subtransient reactance in percent of its own kVA, ohm to neutral.

    The percentage is taken as X (R = X / ratio is added). Raises ImpedanceError.
    """
    if rating_va <= 0 or reactance_pct <= 0:
        raise ImpedanceError("a machine has a rating and a reactance above zero")
    x = reactance_pct / 100.0 * line_to_line_v**2 / rating_va
    return complex(0.0 if math.isinf(ratio) else x / ratio, x)


def motor_group(full_load_a: float, multiple: float, line_to_line_v: float, ratio: float, phases: int = 3) -> complex:
    """Motors that feed `multiple` times their full-load current into a fault at their terminals, ohm to neutral."""
    return source_from_current(full_load_a * multiple, line_to_line_v, ratio, phases)


def parallel(*branches: complex) -> complex:
    """Impedance of branches in parallel. Raises ImpedanceError for none."""
    if not branches:
        raise ImpedanceError("nothing to put in parallel")
    if any(z == 0 for z in branches):
        return 0j
    return 1.0 / sum((1.0 / z for z in branches), start=0j)


def referred(z: complex, from_v: float, to_v: float) -> complex:
    """An impedance seen from another voltage level: times the voltage ratio squared."""
    return z * (to_v / from_v) ** 2


# Degrees below 0 C at which the resistance of a metal would vanish. 1 / (234.5 + 75) and 1 / (228.1 + 75) are the
# coefficients that NEC Chapter 9, Table 8, Note 2 gives rounded: 0.00323 for copper and 0.00330 for aluminum.
ZERO_RESISTANCE_C = {"Cu": 234.5, "Al": 228.1}


def resistance_at(r_at_75: float, degrees_c: float, material: str) -> float:
    """Resistance at another temperature: R75 (T0 + T) / (T0 + 75). Source: NEC Chapter 9, Table 8, Note 2.

    `material` "Cu" or "Al"; the unit of the result is that of `r_at_75`. Raises KeyError for another material.
    """
    zero = ZERO_RESISTANCE_C[material]
    return r_at_75 * (zero + degrees_c) / (zero + 75.0)
