"""The schedule of a panelboard or load center: numbered positions, odd left, even right, phases in a strip between."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from fedfrom.documents.schedules.header import Fields, LoadBlock, category_of, header_fields, load_block
from fedfrom.documents.tables import Cell
from fedfrom.documents.words import STATUS_MARKS
from fedfrom.model.items import Status
from fedfrom.results.notation import conductor_text, option_marks
from fedfrom.results.types import CircuitResult, DeviceResult, GearResult
from fedfrom.rules.registry import Design


@dataclass(frozen=True, slots=True)
class Place:
    """One position of a panel. `rows` = poles that the row covers (0: covered by the row above)."""

    number: int
    rows: int
    name: str
    category: str
    marks: str
    amperes: Cell
    poles: Cell
    device: str
    conductors: str
    length_ft: Cell
    drop_pct: Cell
    va: Cell
    note: str


@dataclass(frozen=True, slots=True)
class PanelSchedule:
    """A whole panel schedule: `pairs` of places (odd, even) with the phase letter between."""

    tag: str
    title: str
    kind: str
    header: Fields
    pairs: tuple[tuple[Place, str, Place], ...]
    loads: LoadBlock


def has_positions(design: Design, gear: GearResult) -> bool:
    """Whether the gear takes the panel form (numbered positions)."""
    circuits = design.results.circuits.get(gear.tag, ())
    return gear.positions_total > 0 or any(circuit.positions for circuit in circuits)


def panel_schedule(design: Design, gear: GearResult) -> PanelSchedule:
    """The panel form of a piece of gear."""
    circuits = design.results.circuits.get(gear.tag, ())
    seats, notes = _seat(circuits)
    numbers, note_lines = _number_notes(circuits)
    last = max([gear.positions_total, *seats], default=0)
    last += last % 2
    letters = _letters(gear)
    noncoincident = {tag for entry in design.model.noncoincident for group in entry.groups for tag in group}
    pairs = []
    for odd in range(1, last, 2):
        letter = letters[(odd // 2) % len(letters)]
        left, right = (
            _place(design, position, seats.get(position), letter, numbers, noncoincident) for position in (odd, odd + 1)
        )
        pairs.append((left, letter, right))
    loads = load_block(design, gear, (*note_lines, *notes))
    return PanelSchedule(gear.tag, gear.title, gear.gear_class, header_fields(design, gear), tuple(pairs), loads)


def _letters(gear: GearResult) -> str:
    if gear.system is None or gear.system.phases == 3:
        return "ABC"
    return "+-" if gear.system.is_dc else "AB"


def _seat(circuits: Iterable[CircuitResult]) -> tuple[dict[int, tuple[CircuitResult, int]], tuple[str, ...]]:
    """Circuit and pole by position. What is to be removed gives way to what takes its place, and is noted."""
    seats: dict[int, tuple[CircuitResult, int]] = {}
    notes = []
    rest = []
    for circuit in sorted(circuits, key=lambda each: each.status is Status.DEMOLISH):
        if any(position in seats for position in circuit.positions):
            rest.append(circuit)
            continue
        seats |= {position: (circuit, pole) for pole, position in enumerate(circuit.positions)}
    for circuit in rest:
        places = ",".join(map(str, circuit.positions))
        status = STATUS_MARKS[circuit.status] or "ALSO"
        size = f", {circuit.device.protects_a:g} A" if circuit.device else ""
        notes.append(f"Position {places}, {status}: {circuit.name or circuit.kind.upper()}{size}.")
    return seats, tuple(notes)


def _number_notes(circuits: Iterable[CircuitResult]) -> tuple[dict[str, int], tuple[str, ...]]:
    numbers: dict[str, int] = {}
    for circuit in circuits:
        for note in circuit_notes(circuit):
            numbers.setdefault(note, len(numbers) + 1)
    return numbers, tuple(f"({number}) {note}" for note, number in numbers.items())


def circuit_notes(circuit: CircuitResult) -> tuple[str, ...]:
    """The notes of a circuit, with who provides it where that is somebody else."""
    by = (f"Provided by {circuit.by}.",) if circuit.by else ()
    return (*circuit.notes, *by)


def marks_of(circuit: CircuitResult, noncoincident: set[str]) -> str:
    """Properties of a load in a column of their own: continuous, noncoincident, multiwire, status."""
    marks = (
        "CONT" if circuit.continuous else "",
        "NONCO" if circuit.tag and circuit.tag in noncoincident else "",
        "MW" if circuit.multiwire else "",
        STATUS_MARKS[circuit.status],
    )
    return " ".join(mark for mark in marks if mark)


def name_of(design: Design, circuit: CircuitResult) -> str:
    """What a row serves: name, rating, tag; the gear's own title for a feeder."""
    if circuit.kind in {"spare", "space"}:
        return circuit.kind.upper()
    name = circuit.name
    if circuit.kind == "feeder" and circuit.feeder_id in design.results.feeders:
        target = design.results.feeders[circuit.feeder_id].target
        gear = design.results.gear.get(target)
        title = gear.title if gear else ""
        name = " ".join(part for part in (target, title or ("" if circuit.name == target else circuit.name)) if part)
    elif circuit.tag and circuit.tag not in name:
        name = f"{circuit.tag} {name}".strip()
    return ", ".join(part for part in (name, circuit.detail) if part) or "NOT NAMED"


def device_marks(device: DeviceResult | None) -> str:
    """What a device is besides amperes and poles: kind other than breaker, trip functions, options, status."""
    if device is None:
        return ""
    kind = "" if device.kind == "breaker" else {"fused switch": "FUSED SW", "switch": "SW"}.get(device.kind, "BP SW")
    fuse = f"CLASS {device.fuse_class}" if device.fuse_class else ""
    marks = (kind, fuse, device.functions, *option_marks(device), STATUS_MARKS[device.status])
    return " ".join(mark for mark in marks if mark)


def _place(
    design: Design,
    position: int,
    seat: tuple[CircuitResult, int] | None,
    letter: str,
    numbers: dict[str, int],
    noncoincident: set[str],
) -> Place:
    if seat is None:
        return Place(position, 1, "OPEN", "", "", "", "", "", "", "", "", "", "")
    circuit, pole = seat
    if circuit.kind == "space":
        va: Cell = ""
    elif circuit.kind == "spare":
        va = 0
    else:
        va = None if circuit.connected_va is None else _va_on(circuit, pole, letter)
    if pole:
        return Place(position, 0, "", "", "", "", "", "", "", "", "", va, "")
    return _first_place(design, circuit, position, va, numbers, noncoincident)


def _first_place(
    design: Design, circuit: CircuitResult, position: int, va: Cell, numbers: dict[str, int], noncoincident: set[str]
) -> Place:
    feeder = design.results.feeders.get(circuit.feeder_id) if circuit.feeder_id else None
    conductors = circuit.conductors or (feeder.conductors if feeder else None)
    length = circuit.length_ft if feeder is None else feeder.length_ft
    drop = circuit.cumulative_drop_pct if feeder is None else feeder.cumulative_drop_pct
    device = circuit.device or (feeder.device if feeder else None)
    is_load = circuit.kind in {"load", "feeder", "tap"}
    amperes: Cell = device.protects_a if device else (None if circuit.kind != "space" else "")
    note = ",".join(f"({numbers[note]})" for note in circuit_notes(circuit))
    wire: str = conductor_text(conductors) if is_load and conductors else ("N/K" if is_load else "")
    return Place(
        position,
        len(circuit.positions),
        name_of(design, circuit),
        category_of(circuit.kind, circuit.category) if is_load else "",
        marks_of(circuit, noncoincident),
        amperes,
        circuit.poles,
        device_marks(device),
        wire,
        length if is_load else "",
        drop if is_load else "",
        va,
        note,
    )


def _va_on(circuit: CircuitResult, pole: int, letter: str) -> float:
    """The load of one pole, VA: on the phase that the position touches."""
    phase = circuit.phases[pole] if pole < len(circuit.phases) else letter
    at = {"A": 0, "B": 1, "C": 2, "+": 0, "-": 1}.get(phase, 0)
    return circuit.va_by_phase[at]
