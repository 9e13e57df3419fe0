"""Motor control centers (vertical sections and their units) and meter centers (a main section and meter stacks)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from fedfrom.model.items import Status
from fedfrom.passes.line_up_devices import Wanted, frame_of, stacked, usable_height, used_height
from fedfrom.passes.line_up_dimensions import Size, height_of, size_of
from fedfrom.passes.work import Work
from fedfrom.results.assembly import MountedDevice
from fedfrom.results.types import CircuitResult, GearResult, SectionResult

MOTOR_CONTROL = "motor control center"
METERS = "meter center"


def motor_control_sections(work: Work, gear: GearResult) -> tuple[SectionResult, ...]:
    """Vertical sections with the incoming unit first, then a unit for each circuit in the order of the schedule."""
    usable = usable_height(work.edition, MOTOR_CONTROL)
    units = [_incoming_unit(work, gear, usable)]
    units += [unit for row in work.circuits.get(gear.tag, ()) if (unit := _unit(work, row, usable)) is not None]
    size = size_of(work.edition, MOTOR_CONTROL, "vertical section", gear.bus_a) if gear.bus_a is not None else None
    return tuple(
        _section(number, "motor control", held, usable, size, gear.bus_a)
        for number, held in enumerate(stacked(units, usable), 1)
    )


def _incoming_unit(work: Work, gear: GearResult, usable: float) -> Wanted:
    if gear.main is None:
        height = height_of(work.edition, MOTOR_CONTROL, "main lugs") or usable
        return Wanted("", "lugs", "incoming lugs", "", 0.0, 0.0, height)
    height = height_of(work.edition, MOTOR_CONTROL, "main unit", frame_of(gear.main)) or usable
    return Wanted(f"{gear.tag}.main", "main", "main", "", frame_of(gear.main), gear.main.protects_a, height)


def _unit(work: Work, row: CircuitResult, usable: float) -> Wanted | None:
    """The unit of a circuit: a starter or drive by motor current, else a feeder unit by frame."""
    if row.status is Status.DEMOLISH or row.kind == "tap":
        return None
    current = row.table_a or row.load_a
    if (row.motor_hp is not None or row.table_a is not None) and current is not None:
        part = "starter unit"
        if "soft starter" in row.detail:
            part = "soft starter unit"
        elif "drive" in row.detail:
            part = "drive unit"
        height = height_of(work.edition, MOTOR_CONTROL, part, current) or usable
        return Wanted(row.key, "unit", row.name, "", current, current, height)
    feeder = work.feeders.get(row.feeder_id) if row.feeder_id else None
    device = row.device or (feeder.device if feeder is not None else None)
    if device is None and row.kind != "space":
        return None
    size = frame_of(device) if device is not None else 0.0
    height = height_of(work.edition, MOTOR_CONTROL, "feeder unit", size) or usable
    return Wanted(row.key, row.kind, row.name, "", size, size, height)


def meter_sections(work: Work, gear: GearResult) -> tuple[SectionResult, ...]:
    """The main section, then stacks of meter sockets with their breakers, in the order of the schedule."""
    usable = usable_height(work.edition, METERS)
    sockets = [socket for row in work.circuits.get(gear.tag, ()) if (socket := _socket(work, row, usable)) is not None]
    main = size_of(work.edition, METERS, "main section", gear.bus_a) if gear.bus_a is not None else None
    first = MountedDevice("", "lugs", "", 0.0, usable, name="incoming lugs")
    if gear.main is not None:
        frame = frame_of(gear.main)
        first = MountedDevice(f"{gear.tag}.main", "main", "", 0.0, usable, frame_a=frame, name="main")
    sections = [_section(1, "main", [first], usable, main, gear.bus_a)]
    by_key = {each.key: each for each in sockets}
    for number, held in enumerate(stacked(sockets, usable), 2):
        largest = max(by_key[each.key].size_a for each in held)
        stack = size_of(work.edition, METERS, "meter stack", largest)
        sections.append(_section(number, "meter stack", held, usable, stack, gear.bus_a))
    return tuple(sections)


def _socket(work: Work, row: CircuitResult, usable: float) -> Wanted | None:
    feeder = work.feeders.get(row.feeder_id) if row.feeder_id else None
    device = row.device or (feeder.device if feeder is not None else None)
    if device is None or row.status is Status.DEMOLISH:
        return None
    height = height_of(work.edition, METERS, "meter socket", device.rating_a) or usable
    metered = feeder is not None and bool(feeder.meter)
    role = "metering" if metered else row.kind
    return Wanted(row.key, role, row.name, "", device.rating_a, device.protects_a, height)


def _section(
    number: int, kind: str, held: Sequence[MountedDevice], usable: float, size: Size | None, through_a: float | None
) -> SectionResult:
    keys = tuple(_keys(held))
    found = SectionResult(number, kind, keys, devices=tuple(held), through_bus_a=through_a, usable_in=usable,
                          used_in=used_height(held))  # fmt: skip
    if size is None:
        return found
    return replace(
        found, width_in=size.width_in, depth_in=size.depth_in, height_in=size.height_in, weight_lb=size.weight_lb
    )


def _keys(held: Sequence[MountedDevice]) -> Iterator[str]:
    for each in held:
        if each.role not in ("main", "lugs"):
            yield each.key
