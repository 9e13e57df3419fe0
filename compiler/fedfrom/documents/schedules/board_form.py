"""The schedule of a switchboard, motor control center or other gear without numbered positions: one device a row."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.documents.schedules.header import Fields, LoadBlock, category_of, header_fields, load_block
from fedfrom.documents.schedules.panel_form import circuit_notes, device_marks, marks_of, name_of
from fedfrom.documents.tables import Cell, Table, number_column, text_column
from fedfrom.documents.words import STATUS_MARKS
from fedfrom.results.governing import governing_load
from fedfrom.results.notation import conductor_text
from fedfrom.results.types import CircuitResult, DeviceResult, GearResult, TieResult
from fedfrom.rules.registry import Design

COLUMNS = (
    text_column("SECTION", 0.85),
    text_column("MOUNTED, HEIGHT", 0.75),
    text_column("DEVICE", 0.8),
    text_column("LOAD SERVED", 2.3),
    text_column("LOAD CATEGORY", 0.85),
    text_column("MARKS", 0.6),
    text_column("TYPE", 0.75),
    number_column("FRAME", "A", 0.5),
    number_column("TRIP/FUSE", "A", 0.6),
    number_column("POLES", "", 0.42),
    text_column("FUNCTIONS, OPTIONS", 1.2),
    number_column("INTERRUPTING", "kA", 0.8, 1),
    text_column("CONDUCTORS", 2.5),
    number_column("LENGTH", "FT", 0.5),
    number_column("DROP", "%", 0.45, 2),
    number_column("CONNECTED", "kVA", 0.7, 1),
    number_column("DEMAND", "kVA", 0.6, 1),
    text_column("NOTE", 0.4),
)


@dataclass(frozen=True, slots=True)
class BoardSchedule:
    """A whole board schedule."""

    tag: str
    title: str
    kind: str
    header: Fields
    devices: Table
    loads: LoadBlock


def board_schedule(design: Design, gear: GearResult) -> BoardSchedule:
    """The row form of a piece of gear: its main first, then each device in the order of the board."""
    circuits = design.results.circuits.get(gear.tag, ())
    sections = {key: f"{item.number} {item.kind}" for item in gear.sections for key in item.circuit_keys}
    numbers: dict[str, int] = {}
    for circuit in circuits:
        for note in circuit_notes(circuit):
            numbers.setdefault(note, len(numbers) + 1)
    noncoincident = {tag for entry in design.model.noncoincident for group in entry.groups for tag in group}
    mounted = mounted_words(gear)
    rows = [_main_row(gear, mounted)] if gear.main else []
    rows += [_tie_row(gear, tie, mounted) for tie in design.results.ties.values() if gear.tag in tie.ends]
    for circuit in circuits:
        place = (sections.get(circuit.key, ""), mounted.get(circuit.key, ""))
        rows.append(_row(design, circuit, place, numbers, noncoincident))
    notes = tuple(f"({number}) {note}" for note, number in numbers.items())
    return BoardSchedule(
        gear.tag,
        gear.title,
        gear.gear_class,
        header_fields(design, gear),
        Table("DEVICES", COLUMNS, tuple(rows)),
        load_block(design, gear, notes),
    )


def mounted_words(gear: GearResult) -> dict[str, str]:
    """How each device is mounted and the height that it takes, by its key: "GROUP, 4.5 IN"."""
    return {
        device.key: ", ".join(part for part in (device.mounting.upper(), f"{device.height_in:g} IN") if part)
        for section in gear.sections
        for device in section.devices
        if device.key
    }


def _main_row(gear: GearResult, mounted: dict[str, str]) -> tuple[Cell, ...]:
    main = gear.main
    assert main is not None
    key = f"{gear.tag}.main"
    held = [item for item in gear.sections if any(device.key == key for device in item.devices)]
    section = next((f"{item.number} {item.kind}" for item in gear.sections if item.kind == "main" or item in held), "")
    return (section, mounted.get(key, ""), key, "MAIN", "", "", *_device_cells(main), "", "", "", "", "", "")


def _tie_row(gear: GearResult, tie: TieResult, mounted: dict[str, str]) -> tuple[Cell, ...]:
    other = tie.ends[1] if tie.ends[0] == gear.tag else tie.ends[0]
    section = next((f"{item.number} {item.kind}" for item in gear.sections if item.kind == "tie"), "")
    state = "normally open" if tie.normally_open else "normally closed"
    conductors = conductor_text(tie.conductors) if tie.conductors else ""
    length: Cell = "" if tie.length_ft is None else tie.length_ft
    name = f"TIE TO {other}, {state}"
    mark = STATUS_MARKS[tie.status]
    place = (section, mounted.get(tie.tag, ""))
    return (*place, tie.tag, name, "", mark, *_device_cells(tie.device), conductors, length, "", "", "", "")


def _device_cells(device: DeviceResult | None) -> tuple[Cell, ...]:
    if device is None:
        return (None, None, None, None, "", None)
    marks = device_marks(device)
    for word in ("FUSED SW", "BP SW", "SW"):
        marks = marks.removeprefix(word).strip()
    interrupting = None if device.interrupting_a is None else device.interrupting_a / 1000
    frame: Cell = device.frame_a if device.fuse_a is None else device.rating_a
    kind = {"bolted-pressure switch": "BOLTED-PR. SW", "fused switch": "FUSED SW"}.get(device.kind, device.kind.upper())
    return (kind, "" if frame is None else frame, device.protects_a, device.poles, marks, interrupting)


def _row(
    design: Design, circuit: CircuitResult, place: tuple[str, str], numbers: dict[str, int], noncoincident: set[str]
) -> tuple[Cell, ...]:
    feeder = design.results.feeders.get(circuit.feeder_id) if circuit.feeder_id else None
    is_load = circuit.kind in {"load", "feeder", "tap"}
    device = circuit.device or (feeder.device if feeder else None)
    conductors = circuit.conductors or (feeder.conductors if feeder else None)
    if circuit.kind == "space":
        size: Cell = circuit.device.frame_a if circuit.device else ""
        cells: tuple[Cell, ...] = ("SPACE", size, "", circuit.poles, "", "")
    else:
        cells = _device_cells(device)
    connected = _kva(circuit.connected_va) if is_load else ""
    demand = _demand(design, feeder.target) if feeder else ""
    source = feeder if feeder else circuit
    return (
        *place,
        circuit.key,
        name_of(design, circuit),
        category_of(circuit.kind, circuit.category) if is_load else "",
        marks_of(circuit, noncoincident),
        *cells,
        (conductor_text(conductors) if conductors else None) if is_load else "",
        source.length_ft if is_load else "",
        source.cumulative_drop_pct if is_load else "",
        connected,
        demand,
        ",".join(f"({numbers[note]})" for note in circuit_notes(circuit)),
    )


def _kva(va: float | None) -> float | None:
    return None if va is None else va / 1000


def _demand(design: Design, tag: str) -> Cell:
    load = governing_load(design.results, tag)
    return None if load is None else load.demand_va / 1000
