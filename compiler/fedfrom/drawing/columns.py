"""A column under a bus: device, tag, callout. Slot heights are the maxima over the siblings, so that all devices, tags
and equipment tops of one bus align.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fedfrom.drawing.captions import callout, device_caption, joined
from fedfrom.drawing.equipment import TAG_HEIGHT, feeder_tag
from fedfrom.drawing.outline import Run
from fedfrom.drawing.revised import revised
from fedfrom.drawing.scene import Group, Shape
from fedfrom.drawing.shapes import block_height, line, text_block, turned_block, widest
from fedfrom.drawing.style import Pen, pen, up
from fedfrom.drawing.symbols import Inline, contactor, device_symbol, drive, meter, overload, soft_starter
from fedfrom.model.items import Status

STUB = 0.10
TEXT_X = 0.14
CALLOUT_X = 0.07
TAG_AT = 0.19
CALLOUT_AT = 0.34
TURNED_WIDTH = 1.90
LEAST_DEVICE_SLOT = 0.70
EXTRAS = {
    "meter": meter,
    "contactor": contactor,
    "overload": overload,
    "drive": drive,
    "soft-starter": soft_starter,
}
WIDE = frozenset({"meter", "drive", "soft-starter"})
"""Extras that reach right of the wire: they stand below the device text."""


@dataclass(frozen=True, slots=True)
class Slots:
    """Heights in inches common to the columns of one bus. `bare`: the device slot is empty and has no height."""

    device: float
    feeder: float
    bare: bool = False


@dataclass(frozen=True, slots=True)
class Column:
    """One run made ready to draw: its inline symbols with their y, the device text and the callout as lines."""

    run: Run
    turned: bool
    caption: tuple[str, ...]
    callout: tuple[str, ...]
    symbol: Inline | None
    inlines: tuple[tuple[float, Inline], ...]

    @property
    def is_bare(self) -> bool:
        return not self.inlines and not self.caption

    @property
    def caption_top(self) -> float:
        """The top of the device text: centred on the device, but clear of the bus."""
        return _caption_top(self.symbol, self.caption)

    @property
    def device_height(self) -> float:
        """What this run needs of the device slot, inches."""
        stack = max([STUB, *(y + inline.height for y, inline in self.inlines)]) + 0.05
        text = widest(self.caption) + 0.10 if self.turned else self.caption_top + block_height(len(self.caption)) + 0.09
        return max(stack, text)

    @property
    def feeder_height(self) -> float:
        """What this run needs of the feeder slot, inches."""
        if self.run.plain:
            return 0.15
        if not self.run.tag:
            return 0.0
        text = widest(self.callout) if self.turned else block_height(len(self.callout))
        return CALLOUT_AT + text + 0.16 + (0.10 if self.run.status is Status.DEMOLISH else 0.0)


def prepare(run: Run, insulation: str, turned: bool) -> Column:
    """Gather the symbols and words of a run. Turned text has fewer and longer lines."""
    caption = device_caption(run)
    words = callout(run, insulation, whole=turned)
    symbol = _device_symbol(run, caption)
    inlines = tuple(_inlines(run, symbol, caption, turned))
    if turned:
        caption, words = joined(caption, TURNED_WIDTH), joined(words, TURNED_WIDTH)
    return Column(run, turned, caption, words, symbol, inlines)


def _device_symbol(run: Run, caption: Sequence[str]) -> Inline | None:
    if run.device is None:
        return None
    attributes = (("TAG", run.tag), ("RATING", " ".join(caption)))
    return device_symbol(run.device.kind, run.device.options, pen(run.device.status), attributes)


def _inlines(run: Run, symbol: Inline | None, caption: Sequence[str], turned: bool) -> list[tuple[float, Inline]]:
    found: list[tuple[float, Inline]] = []
    y = STUB
    if symbol is not None:
        found.append((y, symbol))
        y += symbol.height
    for name in run.extras:
        if name in WIDE and not turned:
            y = max(y, _caption_top(symbol, caption) + block_height(len(caption)) + 0.04)
        extra = EXTRAS[name](pen(run.status))
        found.append((round(y, 4), extra))
        y += extra.height
    return found


def _caption_top(symbol: Inline | None, lines: Sequence[str]) -> float:
    if symbol is None:
        return 0.08
    return max(0.08, STUB + symbol.height / 2 - block_height(len(lines)) / 2)


def slots_for(columns: Sequence[Column], on_bus: bool = True, least: float = 0.0) -> Slots:
    """The slots that the greatest of the columns needs. Without any device and off a bus, there is no device slot."""
    bare = not on_bus and all(column.is_bare for column in columns)
    feeder = up(max((column.feeder_height for column in columns), default=0.0))
    if bare:
        return Slots(0.0, feeder, True)
    device = max(
        [least, LEAST_DEVICE_SLOT if on_bus and columns else 0.0, *(column.device_height for column in columns)]
    )
    return Slots(up(device), feeder)


def column_shapes(column: Column, slots: Slots) -> tuple[Shape, ...]:
    """Device and feeder of one run from its bus at y = 0 to its load end at y = slots.device + slots.feeder."""
    run = column.run
    strokes = pen(run.status)
    parts: list[Shape] = []
    if not slots.bare:
        parts.append(Group((0.0, 0.0), tuple(_device_part(column, slots, strokes)), f"{run.id}.device", "device"))
    if run.plain:
        parts.append(line(0, slots.device, 0, slots.device + slots.feeder, strokes.wire))
    elif run.tag:
        feeder = tuple(_feeder_part(column, slots, strokes))
        parts.append(Group((0.0, slots.device), feeder, f"{run.id}.feeder", "feeder"))
    return tuple(parts)


def _device_part(column: Column, slots: Slots, strokes: Pen) -> list[Shape]:
    run = column.run
    shapes: list[Shape] = [line(0, 0, 0, STUB, strokes.wire)]
    y = STUB
    for at, inline in column.inlines:
        if at > y:
            shapes.append(line(0, y, 0, at, strokes.wire))
        shapes.append(Group((0.0, at), (inline.group,)))
        y = round(at + inline.height, 4)
    if column.turned:
        shapes += turned_block(column.caption, _turned_text_x(run), slots.device - 0.05)
    else:
        shapes += text_block(column.caption, TEXT_X, column.caption_top)
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


def _feeder_part(column: Column, slots: Slots, strokes: Pen) -> list[Shape]:
    half = TAG_HEIGHT / 2
    shapes: list[Shape] = [
        line(0, 0, 0, TAG_AT - half, strokes.wire),
        Group((0.0, TAG_AT), (feeder_tag(column.run.tag),)),
        line(0, TAG_AT + half, 0, slots.feeder, strokes.wire),
    ]
    if column.turned:
        shapes += turned_block(column.callout, CALLOUT_X - 0.01, CALLOUT_AT + widest(column.callout))
    else:
        shapes += text_block(column.callout, CALLOUT_X, CALLOUT_AT)
    if column.run.revised:
        # Round tag and words; the wire itself passes through.
        shapes = [shapes[0], shapes[2], *revised([shapes[1], *shapes[3:]], column.run.revised)]
    if column.run.status is Status.DEMOLISH:
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
