"""Divides a switchboard into sections: utility metering, main, distribution, tie. Space by the practice table."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from fedfrom.passes.gear_facts import GearFacts
from fedfrom.passes.work import Work
from fedfrom.results.types import CircuitResult, DeviceResult, SectionResult
from fedfrom.tables import Edition, lookup


@dataclass(frozen=True, slots=True)
class Mounted:
    """A device to be placed: the key of its row, the rating that loads the section bus, height in inches or its own."""

    key: str
    rating_a: float
    height_in: float
    own_section: bool


def lay_out(work: Work, facts: GearFacts, main: DeviceResult | None) -> tuple[SectionResult, ...]:
    """The sections of a switchboard from left to right. Empty where some branch device is not known."""
    edition = work.edition
    rows = work.circuits.get(facts.tag, ())
    devices = [_mounted(edition, row) for row in rows if row.device is not None or _reserved(row)]
    sections: list[tuple[str, list[Mounted]]] = []
    if facts.metering == "utility":
        sections.append(("utility metering", []))
    group = [device for device in devices if not device.own_section]
    if main is not None:
        combined = main.rating_a <= section_choice(edition, "combined_main_max_a") and facts.devices != "individual"
        if combined:
            group.insert(0, Mounted("main", main.rating_a, _height(edition, main.rating_a, main.poles), False))
        else:
            sections.append(("main", []))
    for tie in work.model.ties:
        if facts.tag == tie.ends[0] and tie.length_ft is None:
            sections.append(("tie", []))
    sections.extend(("distribution", [device]) for device in devices if device.own_section)
    sections.extend(("distribution", filled) for filled in _packed(edition, group))
    wanted = facts.sections or 0
    while len(sections) < wanted:
        sections.append(("distribution", []))
    return tuple(
        SectionResult(number, kind, tuple(device.key for device in held), _section_bus(edition, held))
        for number, (kind, held) in enumerate(sections, 1)
    )


def section_choice(edition: Edition, key: str) -> float:
    """A figure of the practice table `section_choice`. Raises KeyError for an unknown key."""
    return _choices(edition)[key]


@cache
def _choices(edition: Edition) -> dict[str, float]:
    return {row["key"]: float(row["value"]) for row in edition.rows("section_choice")}


def _reserved(row: CircuitResult) -> bool:
    return row.kind == "space" and row.poles > 1


def _mounted(edition: Edition, row: CircuitResult) -> Mounted:
    device = row.device
    if device is None:
        return Mounted(row.key, 0.0, _height(edition, 0.0, row.poles), False)
    size = device.rating_a if device.fuse_a is not None or device.frame_a is None else device.frame_a
    space = _space(edition, size)
    own = space["own_section"] == "1"
    return Mounted(row.key, device.protects_a, _height(edition, size, device.poles), own)


def _space(edition: Edition, size_a: float) -> dict[str, str]:
    rows = edition.rows("section_space")
    return next((row for row in rows if float(row["frame_a"]) >= size_a), rows[-1])


def _height(edition: Edition, size_a: float, poles: int) -> float:
    """Height in inches; small devices stand two in a row, so each takes half of it for its poles."""
    if size_a <= section_choice(edition, "small_device_max_a"):
        return section_choice(edition, "single_pole_height") * poles / 2.0
    return float(_space(edition, size_a)["height_in"])


def _packed(edition: Edition, devices: list[Mounted]) -> list[list[Mounted]]:
    """Devices in their order, a new section where the height or the section bus is used up."""
    usable = section_choice(edition, "usable_height")
    sections: list[list[Mounted]] = []
    height = 0.0
    for device in devices:
        if not sections or height + device.height_in > usable:
            sections.append([])
            height = 0.0
        sections[-1].append(device)
        height += device.height_in
    return sections


def _section_bus(edition: Edition, held: list[Mounted]) -> float | None:
    """The smallest usual section bus for the sum of its devices, at most the largest usual one."""
    total = sum(device.rating_a for device in held)
    if total == 0:
        return None
    ratings = lookup.ampere_ratings(edition, "switchboard_section")
    return next((rating for rating in ratings if rating >= total), ratings[-1])
