"""A transformer, load or source with more than one supply: the wires meet on a line above it."""

from __future__ import annotations

from fedfrom.drawing.block import Block, Placed, compose, with_ports
from fedfrom.drawing.entries import entries_for
from fedfrom.drawing.layout import Layout
from fedfrom.drawing.outline import Part
from fedfrom.drawing.scene import Shape
from fedfrom.drawing.shapes import line
from fedfrom.drawing.style import pen, up
from fedfrom.drawing.symbols import dot

TEE = 0.15
CLEAR = 0.10


def junction_block(part: Part, inner: Block, layout: Layout) -> Block:
    """The part's own block under a line on which its supplies meet, with a dot at every tee."""
    strokes = pen(part.status)
    entries = entries_for(part, layout)
    above = entries.placed(CLEAR, layout)
    level = up(entries.lowering + TEE)
    start = entries.lowering if entries.main_block is not None else 0.0
    own: list[Shape] = [line(0, start, 0, level + TEE, strokes.wire)]
    xs = [x for x, _ in above.feet]
    own += [line(x, y, x, level, strokes.wire) for x, y in above.feet]
    if xs:
        own += [line(0, level, max(xs), level, strokes.wire), dot(0, level, strokes.wire, 0.028)]
        own += [dot(x, level, strokes.wire, 0.028) for x in xs[:-1]]
    placed = Placed(inner, 0.0, up(level + TEE), part.key, "fed")
    return with_ports(compose(own, [*above.blocks, placed]), above.ports)
