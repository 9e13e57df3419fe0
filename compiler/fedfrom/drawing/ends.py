"""What ends a feeder: panel boxes, loads, spare devices."""

from __future__ import annotations

from collections.abc import Sequence

from fedfrom.drawing.block import Block, leaf
from fedfrom.drawing.captions import BOX_WIDTH, horsepower, joined, load_lines, panel_lines
from fedfrom.drawing.equipment import equipment_outline, motor
from fedfrom.drawing.layout import Layout
from fedfrom.drawing.outline import Part
from fedfrom.drawing.revised import revised
from fedfrom.drawing.scene import Group, Shape
from fedfrom.drawing.shapes import block_height, bounds, line, rectangle, text_block, turned_block, widest
from fedfrom.drawing.style import LINE_PITCH, TEXT, Pen, pen, up
from fedfrom.drawing.symbols import drive, named
from fedfrom.model.items import Status
from fedfrom.results.types import CircuitResult

INSET = 0.10
TURNED_WIDTH = 2.30
CORNER = 0.09


def panel_block(part: Part, layout: Layout) -> Block:
    """A panelboard: a box with its data; the branch circuits are in its schedule."""
    turned = _is_turned(part, layout)
    lines = panel_lines(part, layout.results, layout.network, TURNED_WIDTH if turned else BOX_WIDTH)
    return _box(part, lines, "panelboard", turned)


def _is_turned(part: Part, layout: Layout) -> bool:
    return any(run.source in layout.turned for run in layout.inputs(part.key)[:1])


def _box(part: Part, lines: Sequence[str], name: str, turned: bool) -> Block:
    strokes = pen(part.status)
    if turned:
        lines = (lines[0], *joined(lines[1:], TURNED_WIDTH))
        half = round((LINE_PITCH * len(lines) + 0.10) / 2, 4)
        height = up(widest(lines, TEXT, True) + 2 * INSET)
        text = turned_block(lines, -half + 0.06, height - INSET, bold_first=True)
    else:
        half = round(widest(lines, TEXT, True) / 2 + INSET, 4)
        height = up(block_height(len(lines)) + 2 * INSET)
        text = text_block(lines, 0, INSET, bold_first=True, anchor="middle")
    outline = (
        equipment_outline(half, height, strokes)
        if name == "equipment"
        else rectangle(-half, 0, half, height, strokes.box)
    )
    frame = named(name, (outline,), (("TAG", lines[0]),))
    shapes: list[Shape] = [frame, *text]
    if part.status is Status.DEMOLISH:
        shapes += _struck(half, height, strokes)
    return leaf(revised(shapes, part.revised), height)


def _struck(half: float, height: float, strokes: Pen) -> list[Shape]:
    """Corners cut across: the box is to be removed. The text stays legible."""
    marks = [
        line(-half, CORNER, -half + CORNER, 0, strokes.thin),
        line(half - CORNER, 0, half, CORNER, strokes.thin),
        line(-half, height - CORNER, -half + CORNER, height, strokes.thin),
        line(half - CORNER, height, half, height - CORNER, strokes.thin),
    ]
    return [Group((0.0, 0.0), tuple(marks), kind="removal")]


def load_block(part: Part, layout: Layout) -> Block:
    """A load: a motor's circle with its name below, anything else a box."""
    row = part.circuit
    assert row is not None
    lines = load_lines(part)
    if _is_motor(row):
        return _motor(part, row, lines, layout)
    return _box(part, lines, "equipment", _is_turned(part, layout))


def _is_motor(row: CircuitResult) -> bool:
    return row.motor_hp is not None or row.category in ("motor", "elevator")


def _motor(part: Part, row: CircuitResult, lines: Sequence[str], layout: Layout) -> Block:
    strokes = pen(part.status)
    shapes: list[Shape] = []
    y = 0.0
    runs = layout.inputs(part.key)
    if "drive" in row.detail and not (runs and "drive" in runs[0].extras):
        symbol = drive(strokes)
        shapes.append(symbol.group)
        y = symbol.height
    circle = motor(strokes, horsepower(row.motor_hp), (("TAG", lines[0]),))
    shapes.append(Group((0.0, y), (circle.group,)))
    top = y + circle.height + 0.06
    if _is_turned(part, layout):
        length = widest(lines, TEXT, True)
        left = -LINE_PITCH * len(lines) / 2
        shapes += turned_block(lines, left, top + length, bold_first=True)
    else:
        shapes += text_block(lines, 0, top, bold_first=True, anchor="middle")
    return leaf(shapes, up(bounds(Group((0.0, 0.0), tuple(shapes)))[3]))


def reserve_block(part: Part, layout: Layout) -> Block:
    """Nothing hangs on a spare device or an empty place; its words stand at the device."""
    return leaf((), 0.0)
