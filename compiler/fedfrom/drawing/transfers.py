"""A transfer switch, UPS or bypass with what enters it on its poles and what hangs on its output."""

from __future__ import annotations

from collections.abc import Sequence

from fedfrom.drawing import contour
from fedfrom.drawing.block import Block, Placed, Port, compose, with_ports
from fedfrom.drawing.captions import transfer_lines
from fedfrom.drawing.contour import Contour
from fedfrom.drawing.entries import Entries, Entry, entries_for
from fedfrom.drawing.equipment import POLE_PITCH, SWITCH_HEIGHT, converter, transfer_switch
from fedfrom.drawing.layout import Layout
from fedfrom.drawing.outline import Part, Run
from fedfrom.drawing.revised import revised
from fedfrom.drawing.risers import below_point
from fedfrom.drawing.scene import Group, Polyline, Shape
from fedfrom.drawing.shapes import block_height, line, text_block
from fedfrom.drawing.style import Pen, pen, up

ELBOW = 0.15
LETTERS = {
    "fed from": "N",
    "normal from": "N",
    "emergency from": "E",
    "alternate from": "A",
    "bypass from": "B",
    "connects to": "P",
}
LABEL_GAP = 0.14


def transfer_block(part: Part, layout: Layout) -> Block:
    """The switch lowered until its second source clears the board above; its output goes on below."""
    strokes = pen(part.status)
    inputs = layout.inputs(part.key)
    entries = entries_for(part, layout)
    poles = max(len(inputs), 2 if _kind(part, layout) == "transfer switch" else 1)
    others = [entry for entry in entries.items if entry.index > 0]
    top = up(entries.lowering + ELBOW * len(others) if entries.lowering and others else max(entries.lowering, 0.10))
    wires, placed, ports = _inputs(entries, top, strokes)
    lines = transfer_lines(part, layout.results, layout.network)
    symbol = _symbol(part, inputs, poles, layout, strokes)
    right = POLE_PITCH * (poles - 1) + 0.25
    text = text_block(lines, right + LABEL_GAP, top + 0.04, bold_first=True)
    height = up(max(SWITCH_HEIGHT, block_height(len(lines)) + 0.04 + 0.10))
    out = POLE_PITCH * (poles - 1) / 2
    own: list[Shape] = [*wires, Group((0.0, top), (symbol,)), *revised(text, part.revised)]
    below = below_point(part.key, layout, on_bus=False)
    if below is not None:
        own.append(line(out, top + SWITCH_HEIGHT, out, top + height, strokes.wire))
        placed = [*placed, Placed(below, out, round(top + height, 6), f"{part.key}.below", "below")]
    block = compose(own, placed, top + SWITCH_HEIGHT)
    return with_ports(block, ports)


def _kind(part: Part, layout: Layout) -> str:
    found = layout.results.transfers.get(part.key)
    return found.kind if found else layout.network.nodes[part.key].item.kind


def _symbol(part: Part, inputs: Sequence[Run], poles: int, layout: Layout, strokes: Pen) -> Group:
    kind = _kind(part, layout)
    attributes = (("TAG", part.key),)
    letters = [LETTERS.get(run.verb, "") for run in inputs]
    letters += ["N", "E", "A", "B"][len(letters) : poles]
    if kind == "transfer switch":
        return transfer_switch(strokes, letters, attributes)
    if kind == "maintenance bypass":
        return transfer_switch(strokes, letters, attributes, "maintenance-bypass")
    words = {"ups": ("UPS", "ups"), "rectifier": ("RECTIFIER", "rectifier")}
    text, name = words.get(kind.lower(), (kind.upper(), "converter"))
    return converter(strokes, text, poles, attributes, name)


def _inputs(entries: Entries, top: float, strokes: Pen) -> tuple[list[Shape], list[Placed], list[Port]]:
    """Wires to the poles, the blocks above them, ports for wires from other blocks."""
    wires: list[Shape] = []
    placed: list[Placed] = []
    ports: list[Port] = []
    main = entries.main_block
    if main is None or main.block is None:
        wires.append(line(0, 0, 0, top, strokes.wire))
        before: list[tuple[Contour, float]] = [(contour.of_boxes([(-0.02, 0.0, 0.02, top)]), 0.0)]
    else:
        base = round(entries.lowering - main.foot_y, 6)
        placed.append(Placed(main.block, -main.foot_x, base, main.run.source, "source"))
        wires.append(line(0, entries.lowering, 0, top, strokes.wire))
        before = [(_contour(main, entries.lowering), 0.0)]
    others = [entry for entry in entries.items if entry.index > 0]
    for rank, entry in enumerate(others):
        pole = POLE_PITCH * entry.index
        shape = _contour(entry, entries.lowering)
        x = max([pole, *(up(at + contour.clearance(other, shape)) for other, at in before)])
        before.append((shape, x))
        level = round(top - ELBOW * (len(others) - rank), 6)
        if entry.block is None:
            start = 0.0
            ports.append(Port(entry.run.id, x, 0.0))
        else:
            start = entries.lowering
            y = round(start - entry.foot_y, 6)
            placed.append(Placed(entry.block, round(x - entry.foot_x, 6), y, entry.run.source, "source"))
        points = ((x, start), (x, level), (pole, level), (pole, top))
        wires.append(Polyline(_without_repeats(points), strokes.wire))
    return wires, placed, ports


def _contour(entry: Entry, lowering: float) -> Contour:
    """The contour of what stands above a pole, its foot at (0, lowering); of a wire from another block, its lane."""
    if entry.block is None:
        return contour.of_boxes([(-0.05, 0.0, 0.05, max(lowering, 0.05))])
    base = Contour(entry.block.contour.start, entry.block.contour.left, entry.block.contour.right)
    return contour.merged([(base, -entry.foot_x, round(lowering - entry.foot_y, 6))])


def _without_repeats(points: Sequence[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    kept: list[tuple[float, float]] = []
    for point in points:
        if not kept or point != kept[-1]:
            kept.append(point)
    if len({x for x, _ in kept}) == 1:
        return (kept[0], kept[-1])
    return tuple(kept)
