"""Wires that enter a part from above besides the one it hangs on: sources that stand beside it, wires from another
block, flags. All of them end at the same height, the part is lowered until they clear what stands above.
"""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.drawing import contour
from fedfrom.drawing.block import Block, Placed, Port
from fedfrom.drawing.contour import Contour
from fedfrom.drawing.fan import input_flag
from fedfrom.drawing.layout import Layout
from fedfrom.drawing.outline import Part, Run
from fedfrom.drawing.style import up


@dataclass(frozen=True, slots=True)
class Entry:
    """One entering wire. `block` stands above it, its foot at (`foot_x`, `foot_y`); None: a port on the block's top."""

    run: Run
    index: int
    block: Block | None = None
    foot_x: float = 0.0
    foot_y: float = 0.0


@dataclass(frozen=True, slots=True)
class Above:
    """Where entering wires stand: blocks, the feet (x, y) from which wires go on down, ports to be wired by others."""

    blocks: tuple[Placed, ...]
    feet: tuple[tuple[float, float], ...]
    ports: tuple[Port, ...]


@dataclass(frozen=True, slots=True)
class Entries:
    """The entering wires of one part, and by how much the part stands lower because of them (inches)."""

    items: tuple[Entry, ...]
    lowering: float

    @property
    def main_block(self) -> Entry | None:
        """The source that stands straight above, if the part's normal supply is drawn as an entry."""
        return next((entry for entry in self.items if entry.index == 0), None)

    def placed(self, clear_of: float, layout: Layout) -> Above:
        """Place the entries from left to right: the first one straight above, the others right of `clear_of`."""
        blocks: list[Placed] = []
        feet: list[tuple[float, float]] = []
        ports: list[Port] = []
        before: list[tuple[Contour, float]] = [(_wire(self.lowering), 0.0)]
        next_x = up(clear_of + 0.20)
        for entry in self.items:
            shape = _shifted(entry, self.lowering)
            if entry.index == 0:
                x = 0.0
                before = [(shape, 0.0)]
            else:
                x = max([next_x, *(up(at + contour.clearance(other, shape)) for other, at in before)])
                before.append((shape, x))
                next_x = x + 0.50
                feet.append((x, self.lowering if entry.block else 0.0))
            if entry.block is None:
                ports.append(Port(entry.run.id, x, 0.0))
            else:
                y = round(self.lowering - entry.foot_y, 6)
                blocks.append(Placed(entry.block, round(x - entry.foot_x, 6), y, entry.run.source, "source"))
        return Above(tuple(blocks), tuple(feet), tuple(ports))


def _wire(depth: float) -> Contour:
    return contour.of_boxes([(-0.02, 0.0, 0.02, depth)] if depth > 0 else [])


def _shifted(entry: Entry, lowering: float) -> Contour:
    """The contour of an entry with its foot at (0, lowering)."""
    if entry.block is None:
        return contour.of_boxes([(-0.05, 0.0, 0.05, max(lowering, 0.1))])
    base = entry.block.contour
    trimmed = Contour(base.start, base.left, base.right)
    return contour.merged([(trimmed, -entry.foot_x, round(lowering - entry.foot_y, 6))])


def entries_for(part: Part, layout: Layout) -> Entries:
    """The entries of a part: every input but the one it hangs on; that one too where its source stands beside."""
    beside = {run.id for run in layout.beside.get(part.key, ())}
    items = []
    for index, run in enumerate(layout.inputs(part.key)):
        if run.id in beside:
            items.append(_chain(run, index, layout))
        elif index > 0:
            items.append(_other(run, index, layout))
    lowering = max((entry.foot_y for entry in items if entry.block is not None), default=0.0)
    return Entries(tuple(items), up(lowering))


def _chain(run: Run, index: int, layout: Layout) -> Entry:
    root = run.source
    while layout.inputs(root):
        root = layout.inputs(root)[0].source
    block = layout.block(root)
    drop = next(port for port in block.drops if port.run == run.id)
    lane = Block(block.shapes, block.contour, block.bottom, (), block.entries, block.bars)
    return Entry(run, index, lane, drop.x, drop.y)


def _other(run: Run, index: int, layout: Layout) -> Entry:
    if run.id in layout.links:
        return Entry(run, index)
    block = input_flag(run, layout)
    return Entry(run, index, block, 0.0, up(block.bottom))
