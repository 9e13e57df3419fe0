"""A column under a bus: device, tag, callout. Slot heights are the maxima over the siblings, so that all devices, tags
and equipment tops of one bus align.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fedfrom.drawing.captions import callout, device_caption, joined
from fedfrom.drawing.equipment import TAG_HEIGHT, feeder_tag
from fedfrom.drawing.outline import Run
from fedfrom.drawing.scene import Group, Shape
from fedfrom.drawing.shapes import block_height, label, line, text_block, turned_block, widest
from fedfrom.drawing.style import LINE_PITCH, TEXT, Pen, pen, up
from fedfrom.drawing.symbols import Inline, contactor, device_symbol, drive, meter, overload, soft_starter
from fedfrom.model.items import Status

STUB = 0.10
TEXT_X = 0.14
CALLOUT_X = 0.07
TAG_AT = 0.19
CALLOUT_AT = 0.34
TURNED_WIDTH = 1.90
EXTRAS = {
    "meter": meter,
    "contactor": contactor,
    "overload": overload,
    "drive": drive,
    "soft-starter": soft_starter,
}


@dataclass(frozen=True, slots=True)
class Slots:
    """Heights in inches common to the columns of one bus: device slot, feeder slot. `turned`: text reads from the right."""

    device: float
    feeder: float
    turned: bool = False
    bare: bool = False


def slots_for(runs: Sequence[Run], insulation: str, turned: bool = False, on_bus: bool = True, least: float = 0.0) -> Slots:
    """The slots that the greatest of the runs needs. Without any device and off a bus, there is no device slot."""
    bare = not on_bus and all(run.device is None and not run.extras and not device_caption(run) for run in runs)
    device = 0.0 if bare else max((_device_height(run, turned) for run in runs), default=0.0)
    feeder = max((_feeder_height(run, insulation, turned) for run in runs), default=0.0)
    return Slots(0.0 if bare else up(max(device, least, 0.70 if on_bus else 0.0)), up(feeder), turned, bare)


WIDE = frozenset({"meter", "drive", "soft-starter"})
"""Extras that reach right of the wire: they stand below the device text."""


def _inlines(run: Run, turned: bool = False) -> list[tuple[float, Inline]]:
    """The inline symbols of a run, each with its y."""
    found: list[tuple[float, Inline]] = []
    y = STUB
    device = _device_symbol(run)
    if device is not None:
        found.append((y, device))
        y += device.height
    for name in run.extras:
        if name in WIDE and not turned:
            lines = device_caption(run)
            y = max(y, _caption_top(run, lines) + block_height(len(lines)) + 0.04)
        symbol = EXTRAS[name](pen(run.status))
        found.append((round(y, 4), symbol))
        y += symbol.height
    return found


def _device_symbol(run: Run) -> Inline | None:
    if run.device is None:
        return None
    strokes = pen(run.device.status)
    words = device_caption(run)
    attributes = (("TAG", run.tag), ("RATING", " ".join(words)))
    return device_symbol(run.device.kind, run.device.options, strokes, attributes)


def _caption_lines(run: Run, turned: bool = False) -> tuple[str, ...]:
    return joined(device_caption(run), TURNED_WIDTH) if turned else device_caption(run)


def _device_height(run: Run, turned: bool) -> float:
    stack = max([STUB, *(y + inline.height for y, inline in _inlines(run, turned))]) + 0.05
    lines = _caption_lines(run, turned)
    text = widest(lines) + 0.10 if turned else _caption_top(run, lines) + block_height(len(lines)) + 0.09
    return max(stack, text)


def _caption_top(run: Run, lines: Sequence[str]) -> float:
    """The top of the device text: centred on the device, but clear of the bus."""
    symbol = _device_symbol(run)
    if symbol is None:
        return 0.08
    center = STUB + symbol.height / 2
    return max(0.08, center - block_height(len(lines)) / 2)


def _callout_lines(run: Run, insulation: str, turned: bool) -> tuple[str, ...]:
    return joined(callout(run, insulation, whole=True), TURNED_WIDTH) if turned else callout(run, insulation)


def _feeder_height(run: Run, insulation: str, turned: bool) -> float:
    if run.plain:
        return 0.15
    lines = _callout_lines(run, insulation, turned)
    if not run.tag:
        return 0.0
    text = widest(lines) if turned else block_height(len(lines))
    return CALLOUT_AT + text + 0.16 + (0.10 if run.status is Status.DEMOLISH else 0.0)


def column(run: Run, slots: Slots, insulation: str) -> tuple[Shape, ...]:
    """Device and feeder of one run from its bus at y = 0 to its load end at y = slots.device + slots.feeder."""
    strokes = pen(run.status)
    parts: list[Shape] = []
    if not slots.bare:
        parts.append(Group((0.0, 0.0), tuple(_device_part(run, slots, strokes)), f"{run.id}.device", "device"))
    if run.plain:
        parts.append(line(0, slots.device, 0, slots.device + slots.feeder, strokes.wire))
    elif run.tag:
        parts.append(
            Group((0.0, slots.device), tuple(_feeder_part(run, slots, strokes, insulation)), f"{run.id}.feeder", "feeder")
        )
    return tuple(parts)


def _device_part(run: Run, slots: Slots, strokes: Pen) -> list[Shape]:
    shapes: list[Shape] = [line(0, 0, 0, STUB, strokes.wire)]
    y = STUB
    for at, inline in _inlines(run, slots.turned):
        if at > y:
            shapes.append(line(0, y, 0, at, strokes.wire))
        shapes.append(Group((0.0, at), (inline.group,)))
        y = round(at + inline.height, 4)
    lines = _caption_lines(run, slots.turned)
    if slots.turned:
        shapes += turned_block(lines, _turned_text_x(run), slots.device - 0.05)
    else:
        shapes += text_block(lines, TEXT_X, _caption_top(run, lines))
    reserve = not run.tag and not run.plain
    if not reserve and y < slots.device:
        shapes.append(line(0, y, 0, slots.device, strokes.wire))
    elif reserve:
        shapes.append(line(0, y, 0, y + 0.05, strokes.wire))
    return shapes


def _turned_text_x(run: Run) -> float:
    """Turned device text stands right of a bubble or box in the wire."""
    if "meter" in run.extras:
        return 0.52
    return 0.26 if WIDE & set(run.extras) else TEXT_X - 0.04


def _feeder_part(run: Run, slots: Slots, strokes: Pen, insulation: str) -> list[Shape]:
    half = TAG_HEIGHT / 2
    tag = feeder_tag(run.tag)
    shapes: list[Shape] = [
        line(0, 0, 0, TAG_AT - half, strokes.wire),
        Group((0.0, TAG_AT), (tag,)),
        line(0, TAG_AT + half, 0, slots.feeder, strokes.wire),
    ]
    lines = _callout_lines(run, insulation, slots.turned)
    if slots.turned:
        shapes += turned_block(lines, CALLOUT_X - 0.01, CALLOUT_AT + widest(lines))
    else:
        shapes += text_block(lines, CALLOUT_X, CALLOUT_AT)
    if run.status is Status.DEMOLISH:
        shapes.append(removal_mark(0.0, slots.feeder - 0.09, strokes))
    return shapes


def removal_mark(x: float, y: float, strokes: Pen) -> Group:
    """A cross over a wire: this is to be removed."""
    reach = 0.05
    marks = (
        line(x - reach, y - reach, x + reach, y + reach, strokes.thin),
        line(x - reach, y + reach, x + reach, y - reach, strokes.thin),
    )
    return Group((0.0, 0.0), marks, kind="removal")


