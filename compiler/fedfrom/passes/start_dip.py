"""The dip of the voltage when a motor starts: its standstill impedance behind the weakest source, as phasors.

The dip is that at the gear, which its other loads see; a generator counts with its subtransient reactance (the first
cycles). Motors on drives and soft starters, or with an autotransformer, make a dip that depends on their setting: it
is not computed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from fedfrom.formulas.start_dip import dip_at_bus, starting_va
from fedfrom.formulas.voltage_drop import run_impedance
from fedfrom.graph.network import Node
from fedfrom.model.fact_reading import words
from fedfrom.model.items import Load, Origin
from fedfrom.passes.fault_study import BusFault
from fedfrom.passes.load_kinds import traits
from fedfrom.passes.motors import behind_drive, load_of
from fedfrom.passes.practice import assumption
from fedfrom.passes.work import Work
from fedfrom.quantity import Dimension, Quantity, VoltageSystem
from fedfrom.results.derivation import Derivation, Input, Step
from fedfrom.results.types import CircuitResult
from fedfrom.tables import Edition, lookup

SOFT = frozenset({"soft starter", "reduced voltage"})
WYE_START_SHARE = 1 / 3


@dataclass(frozen=True, slots=True)
class StartDip:
    """The dip at the gear in percent, and what it came from: VA at standstill and where that is from; ohm of the source
    side, of the run and of the motor."""

    percent: float
    start_va: float
    source: str
    power_factor: float
    ahead: complex
    run: complex
    motor: complex


def start_dip(work: Work, node: Node, bus: BusFault, row: CircuitResult) -> StartDip | None:
    """The dip at the bus of a motor circuit that starts across the line or wye-delta; None where it is not computed."""
    item = work.model.items.get(row.gear)
    load = load_of(item, row)
    system = node.system or node.line_system
    if load is None or system is None or row.motor_hp is None or behind_drive(item, row):
        return None
    if not traits(work.edition, row.category.split(",")[0].strip()).turns_motor or _soft(load):
        return None
    standstill = standstill_va(work.edition, load, row.motor_hp, _volts(load, system, row), row.poles)
    if standstill is None:
        return None
    va, source = standstill
    factor = _start_power_factor(work.edition, load)
    rated = _volts(load, system, row)
    ahead, run = _loop(bus, row)
    # Half of a two-conductor loop at half its volts is the same circuit as one phase of three: rated^2 / VA, halved.
    size = rated**2 / va if row.poles == 3 or ahead.to_neutral else rated**2 / va / 2
    motor = complex(size * factor, size * math.sqrt(1 - factor**2))
    return StartDip(100.0 * dip_at_bus(ahead.z, run + motor), va, source, factor, ahead.z, run, motor)


def start_derivation(row: CircuitResult, dip: StartDip, state: str) -> Derivation:
    """How the dip came about, as a hand calculation in milliohm."""
    whole, load = dip.ahead + dip.run + dip.motor, dip.run + dip.motor
    return Derivation(
        subject=f"{row.key}.start",
        title=f"Voltage dip at {row.gear} when {row.name or row.key} starts",
        value=f"{dip.percent:.1f} %",
        origin=Origin.CHOSEN,
        inputs=(
            Input("S", "at standstill, rated volts", f"{dip.start_va / 1000:.1f} kVA", source=dip.source),
            Input("cos", "power factor at standstill", f"{dip.power_factor:g}", source="from memory unless written"),
        ),
        steps=(
            Step("Z source", "weakest state, without motors, conductors at 75 C", _milliohm(dip.ahead)),
            Step("Z motor and its run", "E^2 / S at its angle, and the run at 75 C", _milliohm(load)),
            Step(
                "dip = 100 (1 - |Z motor| / |Z source + Z motor|)",
                f"100 x (1 - {abs(load) * 1000:.2f} / {abs(whole) * 1000:.2f})",
                f"{dip.percent:.1f} %",
            ),
        ),
        rounding="none",
        clause="common practice, no source",
        state=state,
        span=row.span,
    )


def _milliohm(z: complex) -> str:
    return f"{z.real * 1000:.2f} + j{z.imag * 1000:.2f} mohm"


@dataclass(frozen=True, slots=True)
class _Ahead:
    z: complex
    to_neutral: bool


def _loop(bus: BusFault, row: CircuitResult) -> tuple[_Ahead, complex]:
    """Source side and run as the motor sees them, ohm."""
    wires = row.conductors
    run = 0j
    if wires is not None and row.length_ft and wires.r_ohm_per_kft is not None and wires.x_ohm_per_kft is not None:
        run = run_impedance(row.length_ft, wires.r_ohm_per_kft, wires.x_ohm_per_kft, wires.sets)
    if row.poles == 1 and bus.z0 is not None:
        return _Ahead((2 * bus.z1_without_motors + bus.z0) / 3, True), 2 * run
    return _Ahead(bus.z1_without_motors, False), run


def _volts(load: Load, system: VoltageSystem, row: CircuitResult) -> float:
    """The motor's rated volts: as written on its line, else those of the system between its terminals."""
    if load.volts is not None:
        return load.volts.value
    return system.line_to_neutral_v if row.poles == 1 and system.has_neutral else system.line_to_line_v


def standstill_va(
    edition: Edition, load: Load, horsepower: float, volts: float, poles: int
) -> tuple[float, str] | None:
    """(VA at rated volts, from where): the top of the code letter's range, else Table 430.251(B), else None."""
    share = WYE_START_SHARE if "wye-delta" in words(load.facts.first("starter")) else 1.0
    letter = load.facts.word("code")
    if letter is not None:
        per_hp = code_letter_kva(edition, letter.value)
        if per_hp is None:
            return None
        source = f"code letter {letter.value}, {per_hp:g} kVA per hp (from memory)"
        return share * starting_va(per_hp, horsepower), source
    current = lookup.locked_rotor_current(edition, horsepower, volts) if poles == 3 else None
    if current is None:
        return None
    return share * math.sqrt(3) * volts * current, f"locked-rotor current {current:g} A, Table 430.251(B)"


def code_letter_kva(edition: Edition, letter: str) -> float | None:
    """The greatest kVA for each horsepower of a code letter (430.7(B)); None for V, which has no upper end."""
    for row in edition.rows("code_letter_430_7_b"):
        if row["letter"] == letter:
            return lookup.number(row["greatest_kva_per_hp"])
    return None


def _start_power_factor(edition: Edition, load: Load) -> float:
    fact = load.facts.first("starting power factor")
    value = next((part for part in fact.values.values() if isinstance(part, Quantity)), None) if fact else None
    if value is None:
        return assumption(edition, "start_power_factor")
    return float(value) / (100.0 if value.dimension is Dimension.PERCENT else 1.0)


def _soft(load: Load) -> bool:
    kinds = set(words(load.facts.first("starter")))
    return load.facts.first("soft starter") is not None or bool(kinds & SOFT)
