"""A block: a rigid piece of the drawing with its own coordinates, its contour and the places where wires pass."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from fedfrom.drawing import contour
from fedfrom.drawing.contour import Contour
from fedfrom.drawing.scene import Group, Shape
from fedfrom.drawing.style import GRID


@dataclass(frozen=True, slots=True)
class Port:
    """A wire that enters or leaves a block at (x, y), drawn by whoever places the block. `run` is the run's id."""

    run: str
    x: float
    y: float

    def moved(self, dx: float, dy: float) -> Port:
        return Port(self.run, round(self.x + dx, 6), round(self.y + dy, 6))


@dataclass(frozen=True, slots=True)
class Bar:
    """Where a bus stands in a block: y of the line, its left and right end, the box of its enclosure."""

    y: float
    left: float
    right: float
    box: tuple[float, float, float, float]

    def moved(self, dx: float, dy: float) -> Bar:
        left, top, right, bottom = self.box
        box = (left + dx, top + dy, right + dx, bottom + dy)
        return Bar(round(self.y + dy, 6), round(self.left + dx, 6), round(self.right + dx, 6), box)


@dataclass(frozen=True, slots=True)
class Block:
    """`(0, 0)` is the connection to what stands above; `drops` leave at the bottom and need a free lane downward.

    `joints[run id]` is the y at which the run's target begins.
    """

    shapes: tuple[Shape, ...]
    contour: Contour
    bottom: float
    drops: tuple[Port, ...] = ()
    entries: tuple[Port, ...] = ()
    bars: Mapping[str, Bar] = field(default_factory=dict)
    joints: Mapping[str, float] = field(default_factory=dict)

    @property
    def left(self) -> float:
        return self.contour.leftmost

    @property
    def right(self) -> float:
        return self.contour.rightmost

    @property
    def top(self) -> float:
        return self.contour.start * GRID


@dataclass(frozen=True, slots=True)
class Placed:
    """A block inside another one; `id` and `kind` name its group."""

    block: Block
    x: float
    y: float
    id: str = ""
    kind: str = ""


def leaf(shapes: Sequence[Shape], bottom: float) -> Block:
    """A block of primitives only."""
    return Block(tuple(shapes), contour.of_shapes(shapes), bottom)


def compose(own: Sequence[Shape], inner: Sequence[Placed], bottom: float = 0.0) -> Block:
    """A block of primitives and of blocks; contours, drops, entries and bars of the inner ones are carried along."""
    shapes: list[Shape] = list(own)
    parts = [(contour.of_shapes(own), 0.0, 0.0)]
    bars: dict[str, Bar] = {}
    joints: dict[str, float] = {}
    for placed in inner:
        if placed.block.shapes:
            shapes.append(Group((placed.x, placed.y), placed.block.shapes, placed.id, placed.kind))
        parts.append((placed.block.contour, placed.x, placed.y))
        bars |= {tag: bar.moved(placed.x, placed.y) for tag, bar in placed.block.bars.items()}
        joints |= {run: round(y + placed.y, 6) for run, y in placed.block.joints.items()}
    return Block(
        tuple(shapes),
        contour.merged(parts),
        max([bottom, parts[0][0].end * GRID, *(placed.y + placed.block.bottom for placed in inner)]),
        tuple(port.moved(placed.x, placed.y) for placed in inner for port in placed.block.drops),
        tuple(port.moved(placed.x, placed.y) for placed in inner for port in placed.block.entries),
        bars,
        joints,
    )


def with_ports(block: Block, entries: Sequence[Port] = (), bars: Mapping[str, Bar] | None = None) -> Block:
    """The same block with further entries and bars."""
    return replace(block, entries=(*block.entries, *entries), bars={**block.bars, **(bars or {})})


def with_joint(block: Block, run: str, y: float) -> Block:
    """The same block, noting where a run's target begins."""
    return replace(block, joints={**block.joints, run: y})
