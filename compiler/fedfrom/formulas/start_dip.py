"""Voltage dip at the start of a motor, as a constant impedance behind the source's."""

from __future__ import annotations


def starting_va(code_letter_kva_per_hp: float, horsepower: float) -> float:
    """Locked-rotor VA at rated voltage. A code letter is kVA per horsepower, never a multiple of the full-load current.

    Source: NEC Table 430.7(B).
    """
    return code_letter_kva_per_hp * horsepower * 1000.0


def dip_constant_impedance(start_va: float, short_circuit_va: float) -> float:
    """Dip as a fraction of the voltage, magnitudes added as if all reactive (slightly pessimistic)."""
    return start_va / (start_va + short_circuit_va)


def dip_simple(start_va: float, short_circuit_va: float) -> float:
    """Dip as a fraction by the plain ratio, which a hand calculation uses; above the constant-impedance form."""
    return start_va / short_circuit_va


def dip_at_bus(ahead: complex, motor: complex) -> float:
    """Dip at the bus as a fraction of the voltage: source side `ahead`, motor and its run `motor`, ohm; phasors."""
    return 1.0 - abs(motor) / abs(ahead + motor)
