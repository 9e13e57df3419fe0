"""Places devices in a section of a line-up from the top down, and starts a new section where the height is used up."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from fedfrom.passes.line_up_dimensions import height_of, size_of
from fedfrom.passes.section_choice import section_choice
from fedfrom.results.assembly import MountedDevice
from fedfrom.results.types import DeviceResult
from fedfrom.tables import Edition

DRAWOUT, INDIVIDUAL, GROUP = "drawout", "individual", "group"


@dataclass(frozen=True, slots=True)
class Wanted:
    """A device before it has a place: `size_a` the frame (or switch) that takes the room, `protects_a` its rating."""

    key: str
    role: str
    name: str
    mounting: str
    size_a: float
    protects_a: float
    height_in: float
    across: int = 1


def frame_of(device: DeviceResult) -> float:
    """The ampere size that decides how much room a device takes: its frame, for switches their rating."""
    return device.rating_a if device.fuse_a is not None or device.frame_a is None else device.frame_a


def mounting_of(edition: Edition, device: DeviceResult, asked: str) -> str:
    """How a device sits in a switchboard: drawn out, individually, or on a common interior."""
    if "drawout" in device.options or asked == DRAWOUT:
        return DRAWOUT
    large = frame_of(device) > section_choice(edition, "group_mounted_max_a")
    if asked == INDIVIDUAL or large or device.kind == "bolted-pressure switch":
        return INDIVIDUAL
    return GROUP


def board_height(edition: Edition, mounting: str, size_a: float, poles: int) -> tuple[float, int]:
    """Height in a switchboard section and how many stand side by side. A whole section where no row is large enough."""
    usable = usable_height(edition)
    if mounting == GROUP and size_a <= section_choice(edition, "small_device_max_a"):
        pole = size_of(edition, "switchboard", "small device pole")
        if pole is not None and pole.height_in is not None:
            return pole.height_in * max(poles, 1), pole.across
    found = size_of(edition, "switchboard", f"{mounting}-mounted device" if mounting == GROUP else f"{mounting} device",
                    size_a)  # fmt: skip
    if found is None or found.height_in is None:
        return usable, 1
    return min(found.height_in, usable), found.across


def usable_height(edition: Edition, kind: str = "switchboard") -> float:
    """Height for devices in one section, inches. A table without the row leaves no height: everything stands alone."""
    return height_of(edition, kind, "usable height") or 0.0


def stacked(devices: Iterable[Wanted], usable_in: float) -> list[list[MountedDevice]]:
    """Devices in their order from the top; two narrow ones of one height side by side; a new section when full.

    A device alone is placed even where it is taller than the section: the section then shows no space left.
    """
    sections: list[list[MountedDevice]] = []
    top = usable_in + 1.0
    for row in _rows(devices):
        high = max(each.height_in for each in row)
        if top + high > usable_in + 1e-6:
            sections.append([])
            top = 0.0
        for side, each in zip(("left", "right"), row, strict=False):
            sections[-1].append(
                MountedDevice(
                    each.key, each.role, each.mounting, top, each.height_in, each.across,
                    side if each.across == 2 else "", each.size_a or None, each.name,
                )
            )  # fmt: skip
        top += high
    return sections


def _rows(devices: Iterable[Wanted]) -> Iterator[list[Wanted]]:
    """A narrow device takes the next narrow one of its height beside it, if that follows it directly."""
    waiting: list[Wanted] = []
    for each in devices:
        if waiting and each.across == 2 and abs(each.height_in - waiting[0].height_in) < 1e-6:
            yield [*waiting, each]
            waiting = []
            continue
        if waiting:
            yield waiting
            waiting = []
        if each.across == 2:
            waiting = [each]
        else:
            yield [each]
    if waiting:
        yield waiting


def used_height(devices: Sequence[MountedDevice]) -> float:
    """The height from the top of the section to the lower edge of its lowest device."""
    return max((each.top_in + each.height_in for each in devices), default=0.0)
