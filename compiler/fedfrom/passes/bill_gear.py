"""Factory gear: one line for equal assemblies with their tags, the devices of a line-up as sub-lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from fedfrom.formulas.take_off import spare_fuses
from fedfrom.model.fact_words import fact_words
from fedfrom.model.items import Status
from fedfrom.passes.bill_equipment import equipment
from fedfrom.passes.bill_lines import BOUGHT, count_line, is_listed
from fedfrom.passes.bill_practice import allowance, assumed_facts, bill_class
from fedfrom.passes.bill_words import (
    amperes_words,
    device_key,
    device_words,
    join,
    key_of,
    kilo_words,
    mains_key,
    mains_words,
    short_device_words,
    system_words,
)
from fedfrom.passes.work import Work
from fedfrom.results.types import BillLine, CircuitResult, DeviceResult, GearResult

# Classes whose devices are lines of their own, because each is selected and quoted by itself.
LINE_UPS = frozenset({"switchboard", "motor control center", "meter center"})


@dataclass(frozen=True, slots=True)
class Assembly:
    """A line with the lines that it includes."""

    line: BillLine
    parts: tuple[BillLine, ...] = ()


def factory_gear(work: Work) -> tuple[BillLine, ...]:
    """The first list: engineered gear first (its decisions are due first), then assembled, then stock."""
    assemblies = [assembly for gear in work.gear.values() for assembly in _gear(work, gear)]
    assemblies += [Assembly(line) for line in equipment(work)]
    assemblies += [Assembly(line) for line in _added_devices(work)]
    assemblies += [Assembly(line) for line in _fuses(work)]
    rank = {"engineered": 0, "factory-assembled": 1, "stock": 2}
    grouped = sorted(_grouped(assemblies), key=lambda each: (each.line.status != "new", rank.get(each.line.kind, 3)))
    return tuple(line for assembly in grouped for line in (assembly.line, *assembly.parts))


def _grouped(assemblies: Iterable[Assembly]) -> list[Assembly]:
    """Equal assemblies once, their tags together, quantities added; in the order of the first of each."""
    found: dict[tuple[object, ...], Assembly] = {}
    for each in assemblies:
        parts = tuple((part.description, part.quantity) for part in each.parts)
        same = (each.line.key, each.line.description, each.line.status, each.line.note, parts)
        held = found.get(same)
        found[same] = each if held is None else Assembly(_add(held.line, each.line), _add_parts(held, each))
    return list(found.values())


def _add(one: BillLine, other: BillLine) -> BillLine:
    return replace(
        one,
        tags=(*one.tags, *other.tags),
        quantity=one.quantity + other.quantity,
        net=one.net + other.net,
        assumed=tuple(dict.fromkeys((*one.assumed, *other.assumed))),
    )


def _add_parts(one: Assembly, other: Assembly) -> tuple[BillLine, ...]:
    return tuple(_add(part, twin) for part, twin in zip(one.parts, other.parts, strict=True))


def _gear(work: Work, gear: GearResult) -> Iterator[Assembly]:
    if not is_listed(gear.status, gear.by):
        return
    entry = bill_class(work.edition, gear.gear_class)
    circuits = [each for each in work.circuits.get(gear.tag, ()) if each.status is not Status.DEMOLISH]
    volts = gear.system.literal if gear.system else ""
    rating = f"{gear.sccr_a / 1000:g}kA" if gear.sccr_a is not None else ""
    positions = str(gear.positions_total) if gear.positions_total else ""
    bus = f"{gear.bus_a:g}A-{gear.bus_material}" if gear.bus_a is not None else ""
    key = key_of(gear.gear_class, volts, bus, mains_key(gear), rating, positions, _enclosure(gear))
    is_line_up = gear.gear_class in LINE_UPS
    devices = "" if is_line_up else _device_list(work, circuits)
    description = join(
        entry.noun,
        "service" if gear.service_equipment else "",
        system_words(gear.system),
        f"{amperes_words(gear.bus_a)} {gear.bus_material} bus".replace("  ", " "),
        mains_words(gear),
        f"{kilo_words(gear.sccr_a, 'short-circuit rating')} {gear.sccr_basis if gear.sccr_a else ''}".strip(),
        f"{gear.positions_total} positions" if gear.positions_total else "",
        _sections(gear),
        f"{gear.metering} metering" if gear.metering not in {"", "none"} else "",
        _enclosure(gear),
        *_stated(work, gear.tag),
        f"with {devices}" if devices else "",
    )
    kind = _kind(work, gear, circuits, entry.kind)
    assumed = _assumed(work, gear)
    line = count_line(key, entry.section, (gear.tag,), description, 1, kind, gear.status, assumed)
    bought = gear.status in BOUGHT
    yield Assembly(line, tuple(_sub_lines(work, gear, key, circuits)) if is_line_up and bought else ())


def _enclosure(gear: GearResult) -> str:
    bare = gear.enclosure.removeprefix("Type").strip()
    return f"Type {bare}" if bare else "enclosure NOT KNOWN"


def _sections(gear: GearResult) -> str:
    if not gear.sections:
        return ""
    kinds = join(*dict.fromkeys(section.kind for section in gear.sections))
    return f"{len(gear.sections)} section{'s' if len(gear.sections) > 1 else ''} ({kinds})"


# Stated facts that belong in the description of an assembly: property -> words before its value ("" = value alone).
STATED = (
    ("mounting", ""),
    ("access", "access"),
    ("entry", "entry"),
    ("feed entry", "feed entry"),
    ("devices", ""),
    ("surge device", "surge device"),
    ("isolated ground bus", "isolated ground bus"),
    ("neutral bus", "neutral bus"),
    ("mimic bus", "mimic bus"),
    ("door", "door"),
)


def _stated(work: Work, tag: str) -> Iterator[str]:
    item = work.model.items.get(tag)
    for name, before in STATED if item else ():
        fact = item.facts.first(name) if item else None
        if fact is not None:
            yield f"{before} {fact_words(fact)}".strip()


def _kind(work: Work, gear: GearResult, circuits: list[CircuitResult], kind: str) -> str:
    if gear.gear_class != "panelboard" or kind != "stock":
        return kind
    devices = [device for circuit in circuits if (device := device_of(work, circuit))]
    special = any(device.options or device.functions or device.kind != "breaker" for device in devices)
    is_large = gear.bus_a is None or gear.bus_a > allowance(work.edition, "stock_bus")
    return "factory-assembled" if special or is_large else "stock"


def _assumed(work: Work, gear: GearResult) -> tuple[str, ...]:
    item = work.model.items.get(gear.tag)
    pairs = assumed_facts(work.edition, gear.gear_class)
    open_facts = [text for name, text in pairs if item is None or item.facts.first(name) is None]
    missing = [
        "bus rating to be stated" if gear.bus_a is None else "",
        "bus material to be stated" if not gear.bus_material else "",
        "short-circuit rating to be established" if gear.sccr_a is None else "",
    ]
    return (*(text for text in missing if text), *open_facts)


def device_of(work: Work, circuit: CircuitResult) -> DeviceResult | None:
    """The device of a row, which for a feeder may stand with the feeder."""
    if circuit.kind == "space":
        return None
    feeder = work.feeders.get(circuit.feeder_id) if circuit.feeder_id else None
    return circuit.device or (feeder.device if feeder else None)


def _device_list(work: Work, circuits: list[CircuitResult]) -> str:
    counts: dict[str, int] = {}
    for circuit in circuits:
        device = device_of(work, circuit)
        if device is not None and circuit.kind != "tap":
            counts[short_device_words(device)] = counts.get(short_device_words(device), 0) + 1
    spaces = sum(circuit.poles for circuit in circuits if circuit.kind == "space")
    words = [f"{count}x {text}" for text, count in counts.items()]
    return "; ".join([*words, f"{spaces} space{'s' if spaces > 1 else ''}"] if spaces else words)


def _sub_lines(work: Work, gear: GearResult, key: str, circuits: list[CircuitResult]) -> Iterator[BillLine]:
    entry = bill_class(work.edition, gear.gear_class)
    note = f"included in {gear.gear_class}"
    if gear.main is not None:
        name = f"Main: {device_words(gear.main)}"
        yield count_line(
            device_key(gear.main), entry.section, (f"{gear.tag}.main",), name, 1, "", gear.status, (), note, key
        )
    groups: dict[tuple[str, str], list[str]] = {}
    for circuit in circuits:
        device = device_of(work, circuit)
        if circuit.kind == "space":
            key_and_name = (
                key_of("space", f"{circuit.poles}P"),
                f"Space, {circuit.poles}-pole, with hardware and filler",
            )
            groups.setdefault(key_and_name, []).append(circuit.key)
        elif device is not None:
            spare = "Spare: " if circuit.kind == "spare" else ""
            groups.setdefault((device_key(device), spare + device_words(device)), []).append(circuit.key)
    for (part_key, name), tags in groups.items():
        yield count_line(part_key, entry.section, tuple(tags), name, len(tags), "", gear.status, (), note, key)


def _added_devices(work: Work) -> Iterator[BillLine]:
    """New devices in gear that is already there, and devices to be removed from it."""
    entry = bill_class(work.edition, "breaker")
    for tag, gear in work.gear.items():
        if gear.status in BOUGHT or gear.by:
            continue
        for circuit in work.circuits.get(tag, ()):
            device = device_of(work, circuit)
            if device is None or device.by:
                continue
            status = device.status if device.status is not Status.NEW else circuit.status
            if not is_listed(status, ""):
                continue
            name = device_words(device)
            note = f"in existing {gear.gear_class} {tag}; listing for that gear to be confirmed"
            yield count_line(device_key(device), entry.section, (circuit.key,), name, 1, entry.kind, status, (), note)


def _fuses(work: Work) -> Iterator[BillLine]:
    """Spare fuses by class and rating."""
    installed: dict[tuple[str, float], int] = {}
    devices = [gear.main for gear in work.gear.values() if gear.status in BOUGHT and gear.main]
    for tag, circuits in work.circuits.items():
        if tag in work.gear and work.gear[tag].status in BOUGHT:
            devices += [device for circuit in circuits if (device := device_of(work, circuit))]
    for device in devices:
        if device.fuse_a is not None:
            rating = (device.fuse_class, device.fuse_a)
            installed[rating] = installed.get(rating, 0) + device.poles
    entry = bill_class(work.edition, "fuse")
    percent = allowance(work.edition, "spare_fuses")
    least = int(allowance(work.edition, "spare_fuses_least"))
    for (fuse_class, amperes), count in sorted(installed.items()):
        name = f"Fuse, class {fuse_class or 'NOT KNOWN'}, {amperes:g} A, spare"
        number = spare_fuses(count, percent, least)
        note = f"{percent:g} % of {count} installed, not fewer than {least}"
        key = key_of("fuse", fuse_class, f"{amperes:g}A")
        yield count_line(key, entry.section, (), name, number, entry.kind, Status.NEW, (), note)
