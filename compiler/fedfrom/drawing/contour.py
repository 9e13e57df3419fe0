"""Contours: how far a block of the drawing reaches left and right at every height, and packing by them.

A contour is kept in cells of `GRID` height. It is computed from the primitives themselves, so labels cannot collide.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil, floor, inf
from operator import sub

from fedfrom.drawing.scene import Shape
from fedfrom.drawing.shapes import Box, bounds, walk
from fedfrom.drawing.style import GRID, snap, up

GAP = 0.14
"""Clear space between neighbouring blocks, inches."""
CLEAR_ABOVE = 0.045
"""Vertical clearance that every primitive takes with it, inches."""


@dataclass(frozen=True, slots=True)
class Contour:
    """Extents by cell: `left[i]`, `right[i]` for the cell `start + i` (cell c spans c*GRID to (c+1)*GRID).

    Empty cells hold (inf, -inf). `tail` are the extents of every cell below the last one (wires that go on down).
    """

    start: int
    left: tuple[float, ...]
    right: tuple[float, ...]
    tail: tuple[float, float] | None = None

    @property
    def end(self) -> int:
        return self.start + len(self.left)

    def at(self, cell: int) -> tuple[float, float]:
        """The extents of one cell."""
        if cell < self.start:
            return (inf, -inf)
        if cell < self.end:
            return (self.left[cell - self.start], self.right[cell - self.start])
        return self.tail or (inf, -inf)

    @property
    def leftmost(self) -> float:
        return min((*self.left, self.tail[0] if self.tail else inf), default=0.0)

    @property
    def rightmost(self) -> float:
        return max((*self.right, self.tail[1] if self.tail else -inf), default=0.0)


EMPTY = Contour(0, (), ())
APART = -1e6
"""A distance in inches that never matters: the two contours share no height."""


def cells(value: float) -> int:
    """A height on the grid as a number of cells."""
    return round(value / GRID)


def of_boxes(boxes: Iterable[Box], tail: tuple[float, float] | None = None) -> Contour:
    """The contour around boxes (left, top, right, bottom)."""
    spans: dict[tuple[int, int], tuple[float, float]] = {}
    for left, top, right, bottom in boxes:
        rows = (floor((top - CLEAR_ABOVE) / GRID + 1e-6), ceil((bottom + CLEAR_ABOVE) / GRID - 1e-6))
        known = spans.get(rows)
        spans[rows] = (left, right) if known is None else (min(known[0], left), max(known[1], right))
    if not spans:
        return Contour(0, (), (), tail)
    start, end = min(s[0] for s in spans), max(s[1] for s in spans)
    lefts, rights = [inf] * (end - start), [-inf] * (end - start)
    for (first, last), (left, right) in spans.items():
        for index in range(first - start, last - start):
            if left < lefts[index]:
                lefts[index] = left
            if right > rights[index]:
                rights[index] = right
    return Contour(start, tuple(lefts), tuple(rights), tail)


def of_shapes(shapes: Iterable[Shape], tail: tuple[float, float] | None = None) -> Contour:
    """The contour of primitives."""
    return of_boxes((bounds(shape, at) for shape, at in walk(shapes)), tail)


def merged(parts: Sequence[tuple[Contour, float, float]]) -> Contour:
    """The contour around (contour, dx, dy), dy on the grid."""
    placed = [(contour, dx, cells(dy)) for contour, dx, dy in parts if contour.left or contour.tail]
    if not placed:
        return EMPTY
    start = min(contour.start + shift for contour, _, shift in placed)
    end = max(contour.end + shift for contour, _, shift in placed)
    lefts, rights = [inf] * (end - start), [-inf] * (end - start)
    for contour, dx, shift in placed:
        base = contour.start + shift - start
        here = slice(base, base + len(contour.left))
        lefts[here] = [
            new if (new := far + dx) < old else old for old, far in zip(lefts[here], contour.left, strict=True)
        ]
        rights[here] = [
            new if (new := far + dx) > old else old for old, far in zip(rights[here], contour.right, strict=True)
        ]
        if contour.tail is not None:
            for index in range(base + len(contour.left), end - start):
                lefts[index] = min(lefts[index], contour.tail[0] + dx)
                rights[index] = max(rights[index], contour.tail[1] + dx)
    tails = [(contour.tail[0] + dx, contour.tail[1] + dx) for contour, dx, _ in placed if contour.tail]
    tail = (min(t[0] for t in tails), max(t[1] for t in tails)) if tails else None
    return Contour(start, tuple(lefts), tuple(rights), tail)


def clearance(left: Contour, right: Contour) -> float:
    """The least distance between the origins of two contours, the second one standing on the right; `APART` for any."""
    start = max(left.start, right.start)
    end = max(left.end if right.tail else 0, right.end if left.tail else 0)
    best = APART
    shared = min(left.end, right.end)
    if shared > start:
        ours = left.right[start - left.start : shared - left.start]
        theirs = right.left[start - right.start : shared - right.start]
        best = max(map(sub, ours, theirs))
    # Below the end of one of them, only a wire that goes on down still stands in the way.
    for cell in range(max(start, shared), end):
        best = max(best, left.at(cell)[1] - right.at(cell)[0])
    if left.tail and right.tail:
        best = max(best, left.tail[1] - right.tail[0])
    return max(best, APART) + GAP


def pack(blocks: Sequence[Contour], pitch: float) -> tuple[float, ...]:
    """Where the origins of neighbouring blocks stand, on the grid: `GAP` between blocks, origins `pitch` or more apart.

    Packed once from the left and once from the right with the same total span; the average satisfies the same
    difference constraints, so a small block between two wide ones is centred.
    """
    count = len(blocks)
    if count < 2:
        return (0.0,) * count
    needed = _distances(blocks, pitch)
    from_left = [0.0] * count
    for j in range(1, count):
        from_left[j] = max(from_left[i] + needed[i, j] for i in range(j) if (i, j) in needed)
    span = from_left[-1]
    from_right = [span] * count
    for i in range(count - 2, -1, -1):
        from_right[i] = min(from_right[j] - needed[i, j] for j in range(i + 1, count) if (i, j) in needed)
    # Rounding down keeps every distance: all distances are multiples of the grid.
    return tuple(round(floor((a + b) / 2 / GRID + 1e-6) * GRID, 6) for a, b in zip(from_left, from_right, strict=True))


def _distances(blocks: Sequence[Contour], pitch: float) -> dict[tuple[int, int], float]:
    """Least distances between pairs that can see each other: neighbours, and farther ones over short blocks."""
    needed: dict[tuple[int, int], float] = {}
    for j in range(1, len(blocks)):
        skyline = blocks[j].end
        reach = 0
        for i in range(j - 1, -1, -1):
            if i < j - 1 and reach >= min(skyline, blocks[i].end) and not _tails(blocks[i], blocks[j]):
                continue
            least = clearance(blocks[i], blocks[j])
            needed[i, j] = max(up(least), pitch * (j - i) if i == j - 1 else 0.0)
            reach = max(reach, blocks[i].end if blocks[i].tail is None else 1 << 30)
            if reach >= skyline and blocks[j].tail is None:
                break
    return needed


def _tails(one: Contour, other: Contour) -> bool:
    return one.tail is not None or other.tail is not None


def middle(positions: Sequence[float]) -> float:
    """The middle between the first and the last position, on the grid."""
    return snap((positions[0] + positions[-1]) / 2) if positions else 0.0
