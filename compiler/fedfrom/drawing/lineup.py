"""A rigid item of the drawing: a tree below one root, or boards side by side with the ties between them."""

from __future__ import annotations

from dataclasses import replace

from fedfrom.drawing.block import Bar, Block, Placed, Port, compose, with_ports
from fedfrom.drawing.captions import device_words, name_text
from fedfrom.drawing.contour import clearance
from fedfrom.drawing.equipment import feeder_tag
from fedfrom.drawing.fan import input_flag
from fedfrom.drawing.layout import Layout
from fedfrom.drawing.outline import Bond
from fedfrom.drawing.scene import Arc, Circle, Group, Polyline, Shape
from fedfrom.drawing.shapes import block_height, label, line, text_block, widest
from fedfrom.drawing.style import TEXT, pen, up
from fedfrom.drawing.symbols import device_symbol, named
from fedfrom.drawing.wiring import Item
from fedfrom.model.items import Status
from fedfrom.results.notation import conductor_lines, length_text


def item_block(item: Item, layout: Layout) -> Block:
    """The block of an item, with an entry port at its top where a wire from another item arrives."""
    blocks = [root_block(root, layout) for root in item.roots]
    if len(blocks) == 1:
        return blocks[0]
    return _side_by_side(item, blocks, layout)


def root_block(key: str, layout: Layout) -> Block:
    """A tree's block: under a flag where its feeder comes from another sheet, under a stub where nothing feeds it."""
    found = layout.roots.get(key)
    if found is None:
        found = layout.roots[key] = _root_block(key, layout)
    return found


def _root_block(key: str, layout: Layout) -> Block:
    block = layout.block(key)
    inputs = layout.inputs(key)
    if inputs and inputs[0].id in layout.cut:
        return _under_flag(key, block, layout)
    if inputs and inputs[0].id in layout.links and inputs[0] not in layout.beside.get(key, ()):
        return with_ports(block, [Port(inputs[0].id, 0.0, 0.0)])
    if not inputs and layout.outline.parts[key].kind != "source":
        strokes = pen(layout.outline.parts[key].status)
        words = label("SOURCE NOT KNOWN", (0, TEXT), TEXT, True, "middle")
        own: list[Shape] = [words, line(0, 0.16, 0, 0.30, strokes.wire)]
        return compose(own, [Placed(block, 0.0, 0.30, key, "root")])
    return block


def _under_flag(key: str, block: Block, layout: Layout) -> Block:
    """The flag that pairs with the one at the source, the feeder's tag again, then the part."""
    run = layout.inputs(key)[0]
    head = input_flag(run, layout)
    strokes = pen(run.status)
    y = head.bottom
    own: list[Shape] = []
    if run.tag:
        own += [line(0, y, 0, y + 0.10, strokes.wire), Group((0.0, round(y + 0.19, 6)), (feeder_tag(run.tag),))]
        own.append(line(0, y + 0.28, 0, up(y + 0.38), strokes.wire))
        y = up(y + 0.38)
    else:
        own.append(line(0, y, 0, up(y + 0.10), strokes.wire))
        y = up(y + 0.10)
    return compose(own, [Placed(head, 0.0, 0.0), Placed(block, 0.0, y, key, "root")])


def _side_by_side(item: Item, blocks: list[Block], layout: Layout) -> Block:
    """Boards in a row, their buses at the same height, ties drawn in the gaps between their enclosures."""
    bars = [block.bars[board] for block, board in zip(blocks, item.boards, strict=True)]
    level = max(bar.y for bar in bars)
    placed: list[Placed] = []
    own: list[Shape] = []
    for index, (block, bar) in enumerate(zip(blocks, bars, strict=True)):
        dy = round(level - bar.y, 6)
        shifted = compose([], [Placed(block, 0.0, dy, item.roots[index], "line-up")])
        if not index:
            placed.append(Placed(shifted, 0.0, 0.0))
            continue
        before, tie = placed[-1], item.ties[index - 1]
        least = before.x + clearance(before.block.contour, shifted.contour)
        x = up(max(least, before.x + bars[index - 1].box[2] + _gap(tie, layout) - bar.box[0]))
        placed.append(Placed(shifted, x, 0.0))
        left = bars[index - 1].moved(before.x, level - bars[index - 1].y)
        right = bar.moved(x, dy)
        own.append(_tie_group(tie, left, right, layout))
        own += _joined(tie, left, right, layout)
    return compose(own, placed)


def _words(tie: Bond, layout: Layout) -> tuple[str, ...]:
    found = layout.results.ties.get(tie.tag)
    if found is None:
        return (tie.tag, "TIE NOT KNOWN")
    state = "N.O." if found.normally_open else "N.C."
    words = device_words(found.device) if found.device is not None else []
    cable = conductor_lines(found.conductors) if found.conductors is not None else ()
    length = (length_text(found.length_ft),) if found.length_ft is not None else ()
    return (f"{name_text(found.tag, found.status)}, {state}", *words, *cable, *length)


def _gap(tie: Bond, layout: Layout) -> float:
    """The clear width between two enclosures that a tie needs."""
    return up(max(1.0, widest(_words(tie, layout), TEXT, True) + 0.30))


def _tie_group(tie: Bond, left: Bar, right: Bar, layout: Layout) -> Group:
    found = layout.results.ties.get(tie.tag)
    strokes = pen(found.status if found else Status.NEW)
    y, middle = left.y, round((left.box[2] + right.box[0]) / 2, 6)
    words = _words(tie, layout)
    shapes: list[Shape] = []
    if found is not None and found.device is not None:
        symbol = device_symbol(
            found.device.kind, found.device.options, strokes, (("TAG", tie.tag), ("RATING", " ".join(words)))
        )
        start = round(middle - symbol.height / 2, 6)
        shapes.append(Group((start, y), (lying(symbol.group),)))
        shapes += [
            line(left.right, y, start, y, strokes.wire),
            line(start + symbol.height, y, right.left, y, strokes.wire),
        ]
    else:
        shapes.append(line(left.right, y, right.left, y, strokes.wire))
    top = y - 0.14 - block_height(len(words))
    shapes += text_block(words, middle, top, bold_first=True, anchor="middle")
    return Group((0.0, 0.0), tuple(shapes), id=tie.tag, kind="tie")


def _joined(tie: Bond, left: Bar, right: Bar, layout: Layout) -> list[Shape]:
    """One line-up: the enclosures of both boards are joined along top and bottom, unless the tie is a cable."""
    found = layout.results.ties.get(tie.tag)
    if found is not None and found.length_ft is not None:
        return []
    strokes = pen(found.status if found else Status.NEW)
    top, bottom = max(left.box[1], right.box[1]), min(left.box[3], right.box[3])
    lines = [line(left.box[2], y, right.box[0], y, strokes.enclosure) for y in (top, bottom)]
    return [named("enclosure", lines)]


def lying(shape: Group) -> Group:
    """A symbol turned so that its wire runs from left to right; what stood right of it stands above."""
    return Group((shape.at[1], -shape.at[0]), tuple(_turned(part) for part in shape.shapes), shape.id, shape.kind,
                 f"{shape.symbol}", shape.attributes)  # fmt: skip


def _turned(shape: Shape) -> Shape:
    if isinstance(shape, Group):
        return lying(shape)
    if isinstance(shape, Polyline):
        return replace(shape, points=tuple((y, -x) for x, y in shape.points))
    if isinstance(shape, Circle):
        return replace(shape, center=(shape.center[1], -shape.center[0]))
    if isinstance(shape, Arc):
        center = (shape.center[1], -shape.center[0])
        return replace(shape, center=center, start_deg=shape.start_deg - 90, end_deg=shape.end_deg - 90)
    return replace(shape, at=(shape.at[1], -shape.at[0]))
