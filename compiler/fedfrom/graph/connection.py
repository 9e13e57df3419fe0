"""How each load is connected to the system of its gear: volts, phases, poles (decisions 20 and 22 of the language)."""

from __future__ import annotations

from fedfrom.graph.voltages import Connection, nominal_volts
from fedfrom.model.build_loads import DIVIDED_KINDS
from fedfrom.model.items import Load
from fedfrom.quantity import VoltageSystem

# Kinds that take three phases at gear voltage where nothing is written, and kinds that take line-to-line.
THREE_PHASE_KINDS = frozenset({"motor", "hvac", "elevator", "x-ray"})
LINE_TO_LINE_KINDS = frozenset(
    {"range", "dryer", "water-heater", "ev-charger", "welder", "heating", "cooling", "mobile-home"}
)


def connect(load: Load, system: VoltageSystem, poles: int | None = None) -> Connection | str:
    """The connection of a load, or one sentence of why the system does not offer it.

    `poles`: the number of pinned positions of one circuit, left out where the load line itself says. Positions that
    disagree with written phases were told when the text was read: the phases hold.
    Order: what is written (phases, volts), then pinned positions, then the kind.
    """
    poles = _written_poles(load) if poles is None else poles
    if poles > 1 and load.kind in DIVIDED_KINDS and _is_to_neutral(load, system):
        poles = 1  # each position is a circuit
    phases, reason = _phases(load, system, poles)
    if reason:
        return reason
    if phases == 3:
        return _three_phase(load, system)
    return _single_phase(load, system, poles)


def _written_poles(load: Load) -> int:
    return 0 if load.multiwire or load.kind == "circuit" else len(load.positions)


def _phases(load: Load, system: VoltageSystem, poles: int) -> tuple[int, str]:
    if load.phases is not None:
        if load.phases == 3 and system.phases != 3:
            return 0, f"is 3-phase; {system.literal} has no three phases"
        return load.phases, ""
    if system.phases != 3:
        return 1, ""
    if poles:
        return (3 if poles == 3 else 1), ""
    if load.volts is not None and _is_to_neutral(load, system):
        return 1, ""
    return (3 if load.kind in THREE_PHASE_KINDS else 1), ""


def _is_to_neutral(load: Load, system: VoltageSystem) -> bool:
    if load.volts is None:
        return False
    nominal = nominal_volts(system, load.volts.value)
    return system.has_neutral and nominal == system.line_to_neutral_v


def _three_phase(load: Load, system: VoltageSystem) -> Connection | str:
    volts = system.line_to_line_v
    if load.volts is not None and nominal_volts(system, load.volts.value) != volts:
        return f"needs {load.volts.value:g} V 3-phase; {system.literal} gives {volts:g} V 3-phase"
    return Connection(volts, 3, False, 3)


def _single_phase(load: Load, system: VoltageSystem, poles: int) -> Connection | str:
    to_neutral = _wants_neutral(load, system, poles)
    if isinstance(to_neutral, str):
        return to_neutral
    wrong = poles in (1, 2) and poles != (1 if to_neutral else 2) and system.phases == 3
    if wrong or poles > 3:
        across = "line to neutral" if to_neutral else "line to line"
        return f"is connected {across} but has {poles} position{'s' if poles > 1 else ''}"
    volts = system.line_to_neutral_v if to_neutral else system.line_to_line_v
    return Connection(volts, 1, to_neutral, 1 if to_neutral else 2)


def _wants_neutral(load: Load, system: VoltageSystem, poles: int) -> bool | str:
    """True for line to neutral, False for line to line, or why neither is offered."""
    if load.volts is not None:
        nominal = nominal_volts(system, load.volts.value)
        if nominal is None:
            return f"needs {load.volts.value:g} V; {system.literal} has no such voltage"
        return system.has_neutral and nominal == system.line_to_neutral_v
    if not system.has_neutral:
        if system.phases == 3 and load.phases is None and poles != 2:
            return f"says neither volts nor phases, and {system.literal} has no neutral"
        return False
    if poles:
        return poles == 1
    if load.phases == 1 and system.phases == 3 and load.kind not in ("lighting", "receptacles"):
        return False
    if load.kind in THREE_PHASE_KINDS | LINE_TO_LINE_KINDS:
        return system.line_to_neutral_v == system.line_to_line_v
    return True
