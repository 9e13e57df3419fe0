"""One section of an elevation: its outline, its devices from the top, and the height that is left."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from fedfrom.drawing.lettering import capitals, wrap
from fedfrom.drawing.scene import Shape, Stroke
from fedfrom.drawing.shapes import label, rectangle
from fedfrom.drawing.style import STATUS_MARKS, TAG_TEXT, pen
from fedfrom.model.items import Status
from fedfrom.results.assembly import MountedDevice
from fedfrom.results.notation import amperes_text, device_lines
from fedfrom.results.types import DeviceResult, GearResult, Results, SectionResult

HEAD_LINES = 4
PITCH = 0.125
TOP_SHARE = 0.4
"""How much of the height that holds no devices is above them."""
SIDE = 2.0
"""Inches of the gear beside the devices, at each side."""
OPEN = Stroke(0.30, (0.08, 0.05), "dimension")
Box = tuple[float, float, float, float]


def head_lines(name: str, section: SectionResult, width: float) -> list[str]:
    """What stands above a section: number, kind, its own bus."""
    lines = [name, *wrap(capitals(section.kind), width - 0.1, 0.09, most=2)]
    if section.bus_a is not None:
        lines += wrap(f"BUS {amperes_text(section.bus_a)}", width - 0.1, 0.09, most=1)
    return lines[:HEAD_LINES]


def section_shapes(gear: GearResult, section: SectionResult, results: Results, box: Box, inch: float) -> list[Shape]:
    """The section in its box on paper; `inch` is the paper length of one inch of gear."""
    left, top, right, bottom = box
    strokes = _strokes(gear.status)
    shapes: list[Shape] = [rectangle(left, top, right, bottom, strokes[0])]
    usable = section.usable_in or 0.0
    spare = max((section.height_in or 0.0) - usable, 0.0)
    first = top + spare * TOP_SHARE * inch
    inner = (left + SIDE * inch, right - SIDE * inch)
    for device in section.devices:
        if device.height_in > 0:
            shapes += _device(gear, device, results, inner, first, inch, strokes[1])
    used = section.used_in or 0.0
    if usable - used >= 1.0:
        shapes += _open_height(usable - used, (inner[0], first + used * inch, inner[1], first + usable * inch))
    beside = [device.name for device in section.devices if device.height_in == 0 and device.name]
    if beside:
        text = wrap(capitals(", ".join(beside)), right - left - 0.1, TAG_TEXT, most=1)
        shapes += [label(line, (left + 0.06, first + usable * inch + 0.05 + TAG_TEXT), TAG_TEXT) for line in text]
    return shapes


@lru_cache(maxsize=8)
def _strokes(status: Status) -> tuple[Stroke, Stroke]:
    """Outline of sections and of devices: the weights and dashes of the status, on the layer of equipment."""
    strokes = pen(status)
    tail = strokes.box.layer.removeprefix("symbol")
    return (
        Stroke(strokes.box.weight_mm, strokes.box.dash, f"equipment{tail}"),
        Stroke(strokes.thin.weight_mm, strokes.box.dash, f"equipment{tail}"),
    )


def _device(
    gear: GearResult,
    device: MountedDevice,
    results: Results,
    inner: tuple[float, float],
    first: float,
    inch: float,
    stroke: Stroke,
) -> list[Shape]:
    left, right = inner
    middle = (left + right) / 2
    if device.side == "left":
        right = middle
    elif device.side == "right":
        left = middle
    top = first + device.top_in * inch
    bottom = top + device.height_in * inch
    shapes: list[Shape] = [rectangle(left, top, right, bottom, stroke)]
    lines = _fitting(_device_text(gear, device, results), right - left - 0.08, bottom - top)
    start = (top + bottom) / 2 - (len(lines) - 1) * PITCH / 2 + TAG_TEXT / 2
    for index, text in enumerate(lines):
        shapes.append(label(text, (left + 0.05, round(start + index * PITCH, 4)), TAG_TEXT))
    return shapes


def _fitting(lines: Sequence[str], width: float, height: float) -> list[str]:
    """As many lines as the height takes, each cut to the width."""
    room = int((height - 0.05 - TAG_TEXT) / PITCH + 1e-6) + 1 if height >= TAG_TEXT + 0.05 else 0
    if width < 0.2:
        return []
    return [wrap(text, width, TAG_TEXT, most=1)[0] for text in lines[:room] if text]


def _device_text(gear: GearResult, device: MountedDevice, results: Results) -> list[str]:
    """Reference and name, then what the device is."""
    number = device.key.removeprefix(f"{gear.tag}.") if device.key else ""
    name = device.name if device.role != "main" else "main"
    found = _result_of(gear, device, results)
    mark = ""
    if found is not None and found.status not in (Status.NEW, gear.status):
        mark = STATUS_MARKS[found.status]
    first = capitals(" ".join(part for part in (number if number != "main" else "", name, mark) if part))
    if found is not None:
        return [first, ", ".join(device_lines(found)[:2]), *device_lines(found)[2:]]
    if device.frame_a:
        return [first, amperes_text(device.frame_a)]
    return [first]


def _result_of(gear: GearResult, device: MountedDevice, results: Results) -> DeviceResult | None:
    if device.key == f"{gear.tag}.main":
        return gear.main
    if device.key in results.ties:
        return results.ties[device.key].device
    row = next((each for each in results.circuits.get(gear.tag, ()) if each.key == device.key), None)
    if row is None:
        return None
    feeder = results.feeders.get(row.feeder_id) if row.feeder_id else None
    return row.device or (feeder.device if feeder is not None else None)


def _open_height(inches: float, box: Box) -> list[Shape]:
    """The height left, dashed, with its inches where there is room for the text."""
    left, top, right, bottom = box
    shapes: list[Shape] = [rectangle(left, top, right, bottom, OPEN)]
    lines = _fitting([f"OPEN {inches:.4g} IN"], right - left - 0.08, bottom - top)
    middle = (top + bottom) / 2 + TAG_TEXT / 2
    shapes += [label(text, ((left + right) / 2, round(middle, 4)), TAG_TEXT, anchor="middle") for text in lines]
    return shapes
