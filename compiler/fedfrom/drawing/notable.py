"""Which branch circuits stand on the one-line, and how a motor is started.

Thresholds are common practice, no source: a plan reviewer wants every large motor and packaged unit on the diagram,
and small branch circuits in the schedule only.
"""

from __future__ import annotations

from fedfrom.model.items import Load
from fedfrom.results.types import CircuitResult, GearResult

MOTOR_HP = 5.0
"""Motors of this size and more are drawn, also on panelboards."""
PACKAGED_A = 30.0
"""Packaged equipment (heating, cooling, elevators, x-ray, welders) is drawn from this device rating up."""
ANY_LOAD_A = 100.0
"""Any load is drawn whose own device is this large."""

PACKAGED = frozenset({"hvac", "cooling", "heating", "elevator", "x-ray", "welder"})
EVERY_CIRCUIT = frozenset({"motor control center", "switchboard", "busway", "fire pump controller", "disconnect"})
MOTOR_GEAR = frozenset({"motor control center", "fire pump controller"})


def is_drawn(row: CircuitResult, gear: GearResult | None) -> bool:
    """Whether a branch circuit is drawn with its device, conductors and load."""
    if gear is not None and gear.gear_class in EVERY_CIRCUIT:
        return True
    rating = row.device.protects_a if row.device else None
    if row.motor_hp is not None and row.motor_hp >= MOTOR_HP and "motor" in row.category:
        return True
    if row.category in PACKAGED:
        return rating is None or rating >= PACKAGED_A
    return rating is not None and rating >= ANY_LOAD_A


def motor_gear(gear: GearResult | None) -> bool:
    """Whether the gear holds the starters of its motors."""
    return gear is not None and gear.gear_class in MOTOR_GEAR


def starting_means(row: CircuitResult, in_motor_gear: bool, loads: tuple[object, ...]) -> tuple[str, ...]:
    """Inline symbols between device and motor: what the text says, else a full-voltage starter in motor gear."""
    load = _load_of(row, loads)
    if load is not None:
        if load.facts.first("drive") is not None:
            return ("drive",)
        starter = load.facts.word("starter")
        if starter is not None and ("soft" in starter.value or "reduced" in starter.value):
            return ("soft-starter",)
        if starter is not None:
            return ("contactor", "overload")
    elif "drive" in row.detail:
        return ("drive",)
    if in_motor_gear and row.category == "motor":
        return ("contactor", "overload")
    return ()


def _load_of(row: CircuitResult, loads: tuple[object, ...]) -> Load | None:
    """The load as written that a schedule row comes from."""
    for load in loads:
        if isinstance(load, Load) and row.span is not None and load.span == row.span:
            return load
    for load in loads:
        if isinstance(load, Load) and (load.tag, load.name) == (row.tag, row.name) and (row.tag or row.name):
            return load
    return None
