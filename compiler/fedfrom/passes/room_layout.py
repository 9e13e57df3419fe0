"""Puts equipment and doors into a rectangular room: along walls, working spaces free, nothing on anything.

Plan coordinates in feet from the north-west corner, x east, y south. The search is greedy and says only "a place was
found"; that it finds none is no proof that there is none, and the caller must not report it as one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

Rect: TypeAlias = tuple[float, float, float, float]
"""Left, top, right, bottom."""

DOOR_WALLS = ("west", "east", "south", "north")
OPPOSITE = {"north": "south", "south": "north", "west": "east", "east": "west"}
SLACK = 1e-6


@dataclass(frozen=True, slots=True)
class Block:
    """Equipment that stands together: width along the wall, depth from it, depth of the space in front and behind.

    `work` depth of the working space (0: none is asked for), `facing_work` the depth where live parts stand opposite,
    `work_width` the least width of the working space, `wall` the wall that the text names, "" for any.
    """

    key: str
    width: float
    depth: float
    work: float
    facing_work: float
    work_width: float
    rear: float
    wall: str


@dataclass(frozen=True, slots=True)
class Placed:
    """A block with its wall, its footprint and its working space (None without one)."""

    block: Block
    wall: str
    footprint: Rect
    work: Rect | None
    rear: Rect | None


@dataclass(slots=True)
class RoomGrid:
    """A room that is being filled."""

    length: float
    width: float
    placed: list[Placed] = field(default_factory=list)
    openings: list[Rect] = field(default_factory=list)
    door_walls: list[str] = field(default_factory=list)

    def place(self, block: Block) -> Placed | None:
        """Put a block on the wall that it names, or on the first wall with a place; None where none was found."""
        for wall in (block.wall,) if block.wall else self._walls(block):
            for start in self._starts(block, wall):
                candidate = self._at(block, wall, start)
                if self._is_free(candidate):
                    self.placed.append(candidate)
                    return candidate
        return None

    def door(self, width: float, wall: str) -> tuple[str, float] | None:
        """A place for a door: the wall and where it starts, with a square inside the room kept free of equipment.

        Places that keep off the working spaces come first.
        """
        for off_spaces in (True, False):
            for name in (wall,) if wall else sorted(DOOR_WALLS, key=self.door_walls.count):
                for start in self._door_starts(name, width):
                    square = self._rect(name, start, width, 0.0, width)
                    if self._is_clear(square, off_spaces):
                        self.openings.append(square)
                        self.door_walls.append(name)
                        return name, start
        return None

    def _door_starts(self, wall: str, width: float) -> Iterator[float]:
        along = self._along(wall)
        starts = [(along - width) / 2, along - width - 0.5, 0.5]
        starts += [end + 0.25 for end in self._edges(wall)] + [edge - width - 0.25 for edge in self._edges(wall)]
        yield from (start for start in starts if start >= -SLACK and start + width <= along + SLACK)

    def _is_clear(self, square: Rect, off_spaces: bool) -> bool:
        """Whether a door's square is clear of other doors and equipment, and of the working spaces where asked."""
        blocks = [each.footprint for each in self.placed] + self.openings
        if off_spaces:
            blocks += [rect for each in self.placed for rect in (each.work, each.rear) if rect is not None]
        return not any(_overlap(square, rect) for rect in blocks)

    def clear_depth(self, placed: Placed) -> float:
        """The free distance in front of a block up to the wall or to what stands opposite."""
        deep = self._across(placed.wall) - placed.block.rear - placed.block.depth
        for other in self.placed:
            if other.wall == OPPOSITE.get(placed.wall) and _share(placed, other):
                deep = min(deep, _gap(placed, other))
        return deep

    def faces_another(self, placed: Placed) -> bool:
        """Whether other equipment fronts on the same aisle: so near that the two working spaces meet or overlap."""
        return any(
            other.wall == OPPOSITE.get(placed.wall)
            and other.work is not None
            and _share(placed, other)
            and _gap(placed, other) <= placed.block.facing_work + other.block.facing_work + SLACK
            for other in self.placed
        )

    def _walls(self, block: Block) -> tuple[str, ...]:
        """Long walls first."""
        long = ("north", "south", "west", "east")
        return long if self.length >= self.width else ("west", "east", "north", "south")

    def _along(self, wall: str) -> float:
        return self.length if wall in ("north", "south", "center") else self.width

    def _across(self, wall: str) -> float:
        return self.width if wall in ("north", "south", "center") else self.length

    def _starts(self, block: Block, wall: str) -> Iterator[float]:
        along = self._along(wall)
        candidates = [0.0, *self._edges(wall), *(edge - block.width for edge in self._edges(wall)), along - block.width]
        if block.work and block.work_width > block.width:
            # A narrow cabinet keeps off its neighbour by nothing, but may stand in the middle of its working width.
            candidates.append((block.work_width - block.width) / 2)
        if wall == "center":
            candidates = [(along - block.width) / 2, *candidates]
        seen: set[float] = set()
        for start in candidates:
            start = round(start, 6)
            if start not in seen and start >= -SLACK and start + block.width <= along + SLACK:
                seen.add(start)
                yield max(start, 0.0)

    def _edges(self, wall: str) -> list[float]:
        """Where other equipment and its spaces begin and end, seen along a wall."""
        first, second = (0, 2) if wall in ("north", "south", "center") else (1, 3)
        rects = [rect for each in self.placed for rect in (each.footprint, each.work, each.rear) if rect is not None]
        return sorted({round(rect[end], 6) for rect in (*rects, *self.openings) for end in (first, second)})

    def _at(self, block: Block, wall: str, start: float) -> Placed:
        offset = block.rear
        if wall == "center":
            offset = max((self.width - block.depth) / 2, 0.0)
        footprint = self._rect(wall, start, block.width, offset, block.depth)
        work = None
        if block.work:
            wide = max(block.work_width, block.width)
            begin = start - (wide - block.width) / 2
            begin = min(max(begin, 0.0), max(self._along(wall) - wide, 0.0))
            work = self._rect(wall, begin, wide, offset + block.depth, block.work)
        rear = self._rect(wall, start, block.width, offset - block.rear, block.rear) if block.rear else None
        return Placed(block, wall, footprint, work, rear)

    def _rect(self, wall: str, start: float, width: float, offset: float, depth: float) -> Rect:
        """A rectangle that begins `offset` from a wall."""
        if wall in ("north", "center"):
            return (start, offset, start + width, offset + depth)
        if wall == "south":
            return (start, self.width - offset - depth, start + width, self.width - offset)
        if wall == "west":
            return (offset, start, offset + depth, start + width)
        return (self.length - offset - depth, start, self.length - offset, start + width)

    def _is_free(self, one: Placed) -> bool:
        own = [rect for rect in (one.work, one.rear) if rect is not None]
        if not all(self._inside(rect) for rect in (one.footprint, *own)):
            return False
        for other in self.placed:
            theirs = [rect for rect in (other.footprint, other.work, other.rear) if rect is not None]
            if any(_overlap(one.footprint, rect) for rect in theirs):
                return False
            if any(_overlap(rect, other.footprint) for rect in own):
                return False
            if self._too_near(one, other):
                return False
        return not any(_overlap(one.footprint, rect) for rect in self.openings)

    def _too_near(self, one: Placed, other: Placed) -> bool:
        """Whether two fronts face each other with less between them than live parts on both sides ask for."""
        if one.work is None or other.work is None or other.wall != OPPOSITE.get(one.wall) or not _share(one, other):
            return False
        return _gap(one, other) < max(one.block.facing_work, other.block.facing_work) - SLACK

    def _inside(self, rect: Rect) -> bool:
        return (
            rect[0] >= -SLACK and rect[1] >= -SLACK and rect[2] <= self.length + SLACK and rect[3] <= self.width + SLACK
        )


def _overlap(one: Rect, other: Rect) -> bool:
    return (
        one[0] < other[2] - SLACK
        and other[0] < one[2] - SLACK
        and one[1] < other[3] - SLACK
        and other[1] < one[3] - SLACK
    )


def _share(one: Placed, other: Placed) -> bool:
    """Whether two blocks on opposite walls stand opposite to each other somewhere."""
    first, second = (0, 2) if one.wall in ("north", "south", "center") else (1, 3)
    a, b = one.footprint, other.footprint
    return a[first] < b[second] - SLACK and b[first] < a[second] - SLACK


def _gap(one: Placed, other: Placed) -> float:
    """The distance between two fronts across an aisle."""
    low, high = (1, 3) if one.wall in ("north", "south", "center") else (0, 2)
    a, b = one.footprint, other.footprint
    return max(a[low] - b[high], b[low] - a[high])


def in_order(blocks: Sequence[Block]) -> list[Block]:
    """Named walls first, then the widest: what is hard to place comes before what is easy."""
    return sorted(blocks, key=lambda block: (not block.wall, -block.width))
