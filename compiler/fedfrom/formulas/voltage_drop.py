"""Voltage drop of a run of conductors: the exact phasor form, and the approximate form that cross-checks it.

One run is three ways of looking at the same conductor: the drop *to neutral* of one conductor is what `voltage_drop`
returns; `drop_factor` says how often the circuit's own voltage sees it (3-phase: sqrt(3); two conductors: 2).
"""

from __future__ import annotations

import math

FEET_PER_UNIT_OF_TABLE = 1000.0


class DropError(ValueError):
    """An argument lies outside what the formula covers (power factor, sets), or the load cannot be supplied at all."""


def run_impedance(length_ft: float, r_ohm_per_kft: float, x_ohm_per_kft: float, sets: int = 1) -> complex:
    """R + jX of one conductor of a run, ohm to neutral; `sets` equal sets stand in parallel.

    `length_ft` is one way. R and X are those of NEC Chapter 9 Table 9 (75 C, 60 Hz). Raises DropError for sets < 1.
    """
    if sets < 1:
        raise DropError(f"a run needs at least one set of conductors, not {sets}")
    return complex(r_ohm_per_kft, x_ohm_per_kft) * length_ft / FEET_PER_UNIT_OF_TABLE / sets


def voltage_drop(
    current_a: float,
    length_ft: float,
    r_ohm_per_kft: float,
    x_ohm_per_kft: float,
    power_factor: float,
    sets: int = 1,
    sending_v: float | None = None,
) -> float:
    """Line-to-neutral drop of one run, V: the loss of voltage *magnitude* between its two ends.

    `current_a` of all sets together, lagging at `power_factor` at the load; `length_ft` one way; R and X of one set,
    ohm to neutral per 1000 ft, hot. With `sending_v` (to neutral: line-to-line / sqrt(3) for 3-phase, / 2 for two
    conductors) the form is exact: E + a - sqrt(E^2 - b^2), a = I (R cos + X sin), b = I (X cos - R sin). Without it
    the drop is the limit for a high voltage, a, which lies below the exact one by less than 1 % at ordinary drops.
    Raises DropError for a power factor outside 0..1, for sets < 1, and for a drop past the sending voltage.
    Source: exact expression of IEEE Std 141-1993, 3.11 (from memory; checked against the phasor solution).
    """
    if sending_v is None:
        return approximate_drop(current_a, length_ft, r_ohm_per_kft, x_ohm_per_kft, power_factor, sets)
    drop = _drop_phasor(current_a, length_ft, r_ohm_per_kft, x_ohm_per_kft, power_factor, sets)
    if abs(drop.imag) >= sending_v or drop.real >= sending_v:
        raise DropError(f"{current_a:g} A over {length_ft:g} ft loses more than the whole {sending_v:g} V")
    return _magnitude_lost(sending_v, drop)


def approximate_drop(
    current_a: float,
    length_ft: float,
    r_ohm_per_kft: float,
    x_ohm_per_kft: float,
    power_factor: float,
    sets: int = 1,
) -> float:
    """I (R cos + X sin), V line to neutral: the usual hand form (NEC Chapter 9, Table 9, Note 2). For cross-checks."""
    return _drop_phasor(current_a, length_ft, r_ohm_per_kft, x_ohm_per_kft, power_factor, sets).real


def drop_factor(phases: int) -> float:
    """How often the circuit voltage sees the line-to-neutral drop of one conductor.

    3-phase: sqrt(3), in percent of line to line. Otherwise 2: both conductors carry the current (also DC), in percent
    of the voltage between them.
    """
    return math.sqrt(3) if phases == 3 else 2.0


def percent_drop(
    voltage_v: float,
    phases: int,
    current_a: float,
    length_ft: float,
    r_ohm_per_kft: float,
    x_ohm_per_kft: float,
    power_factor: float,
    sets: int = 1,
) -> tuple[float, float]:
    """(V, percent) lost by a circuit of `voltage_v` between its conductors (line to line for 3-phase); exact form.

    `phases` 3, else two conductors (1-phase line to line, line to neutral, DC). Raises DropError as `voltage_drop`.
    """
    factor = drop_factor(phases)
    to_neutral = voltage_drop(
        current_a, length_ft, r_ohm_per_kft, x_ohm_per_kft, power_factor, sets, voltage_v / factor
    )
    lost = factor * to_neutral
    return lost, 100.0 * lost / voltage_v


def transformer_drop_percent(
    load_va: float, rating_va: float, impedance_pct: float, x_over_r: float, power_factor: float
) -> float:
    """Drop through a transformer, percent of its rated secondary voltage, sending voltage held at 1 per unit.

    The current is the load's at rated voltage, lagging. Raises DropError as `voltage_drop`.
    Source: exact form of a published regulation worksheet (12 MVA example in tests/unit/formulas/test_drop.py).
    """
    angle = _lagging_angle(power_factor)
    z = impedance_pct / 100.0 * load_va / rating_va
    r = z / math.hypot(1.0, x_over_r)
    drop = complex(r, r * x_over_r) * complex(math.cos(angle), -math.sin(angle))
    if abs(drop.imag) >= 1.0 or drop.real >= 1.0:
        raise DropError("the load is beyond what the transformer can supply")
    return 100.0 * _magnitude_lost(1.0, drop)


def _magnitude_lost(sending_v: float, drop: complex) -> float:
    # The receiving voltage V is real, so |E|^2 = (V + Re)^2 + Im^2, and the loss is E - V.
    return sending_v + drop.real - math.sqrt(sending_v**2 - drop.imag**2)


def _drop_phasor(
    current_a: float,
    length_ft: float,
    r_ohm_per_kft: float,
    x_ohm_per_kft: float,
    power_factor: float,
    sets: int,
) -> complex:
    angle = _lagging_angle(power_factor)
    current = current_a * complex(math.cos(angle), -math.sin(angle))
    return current * run_impedance(length_ft, r_ohm_per_kft, x_ohm_per_kft, sets)


def _lagging_angle(power_factor: float) -> float:
    if not 0.0 <= power_factor <= 1.0:
        raise DropError(f"a power factor lies between 0 and 1, not {power_factor:g}")
    return math.acos(power_factor)
