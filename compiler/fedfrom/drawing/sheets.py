"""Sheets: pieces in rows, zones, and the pairs of continuation flags."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import floor

from fedfrom.drawing.papers import Paper
from fedfrom.drawing.pieces import Piece, size
from fedfrom.drawing.scene import Group, Label, Shape
from fedfrom.drawing.shapes import bounds, groups, label
from fedfrom.drawing.style import GRID

PIECE_GAP = 0.35
ROW_GAP = 0.45
MOST_SPREAD = 1.5
ONE_MORE = 1.6
"""What one more feeder adds to the width of a piece, inches."""
LEAST_FAMILY = 4


def paper_for(piece: Piece, base: Paper) -> Paper:
    """The base sheet, or one grown in steps of an inch for a piece that cannot be made smaller."""
    wide, high = size(piece.block)
    over_x = max(0, -floor((base.room[0] - wide) + 1e-6))
    over_y = max(0, -floor((base.room[1] - high) + 1e-6))
    if not over_x and not over_y:
        return base
    width, height = base.width + over_x, base.height + over_y
    return replace(base, name=f"{height:g} x {width:g}", width=width, height=height)


@dataclass(slots=True)
class _Row:
    """Stacks side by side; most of them are one piece."""

    stacks: list[list[Piece]]
    width: float
    height: float
    closed: bool = False

    def stack(self, piece: Piece, most: float) -> bool:
        """Put a piece under another one where, with one more feeder, it is not wider; False when there is no room.

        `most` is the height that the row may grow to, inches.
        """
        wide, high = size(piece.block)
        for stack in self.stacks:
            across = max(size(each.block)[0] for each in stack)
            down = sum(size(each.block)[1] + ROW_GAP for each in stack) + high
            if wide + ONE_MORE <= across and down <= most:
                stack.append(piece)
                self.height = max(self.height, down)
                return True
        return False


@dataclass(slots=True)
class Filled:
    """A sheet's paper and its pieces with their places (origin of each block)."""

    paper: Paper
    base: Paper
    rows: list[_Row]

    def takes(self, piece: _Row) -> bool:
        """Take a row of one piece into a row of the sheet or as a new one; False when there is no room."""
        if self.paper is not self.base:
            return False
        width, height = self.paper.room
        total = sum(row.height for row in self.rows) + ROW_GAP * (len(self.rows) - 1)
        for row in self.rows if not piece.closed else ():
            fits = row.width + PIECE_GAP + piece.width <= width
            if not row.closed and fits and total - row.height + max(row.height, piece.height) <= height:
                row.stacks += piece.stacks
                row.width += PIECE_GAP + piece.width
                row.height = max(row.height, piece.height)
                return True
            if not row.closed and row.stack(piece.stacks[0][0], height - total + row.height):
                return True
        if not self.rows or total + ROW_GAP + piece.height <= height:
            self.rows.append(piece)
            return True
        return False


def fill(pieces: Sequence[Piece], base: Paper) -> list[Filled]:
    """Pieces on sheets: pinned ones on theirs, the others in their order, each into the first row or sheet with room.

    A head is a row of its own; so are so many pieces of about one size (`_rows`). A sheet that a pin skipped stays
    without rows, so that sheets keep their numbers.
    """
    sheets: list[Filled] = []
    pinned = [_row([piece]) for piece in pieces if piece.pin]
    for row in [*pinned, *_rows([piece for piece in pieces if not piece.pin], base)]:
        paper = paper_for(row.stacks[0][0], base)
        first = max(0, row.stacks[0][0].pin - 1)
        while len(sheets) < first:
            sheets.append(Filled(base, base, []))
        if paper is not base or not any(sheet.takes(row) for sheet in sheets[first:]):
            sheets.append(Filled(paper, base, [row]))
    return sheets


def _row(pieces: list[Piece], closed: bool = False) -> _Row:
    sizes = [size(piece.block) for piece in pieces]
    width = sum(wide for wide, _ in sizes) + PIECE_GAP * (len(pieces) - 1)
    return _Row(
        [[piece] for piece in pieces],
        width,
        max(high for _, high in sizes),
        closed or any(piece.head for piece in pieces),
    )


def _rows(pieces: Sequence[Piece], base: Paper) -> list[_Row]:
    """Neighbours of about one size in rows of a number that goes by their middle width, with room for one more feeder.

    So a feeder more in one of them changes neither that number nor where the others stand; what then finds no room in
    its row comes last. Other pieces come alone.
    """
    rows: list[_Row] = []
    spilled: list[_Row] = []
    start = 0
    while start < len(pieces):
        end = start + 1
        while end < len(pieces) and _alike(pieces[start], pieces[end]):
            end += 1
        family = pieces[start:end]
        if len(family) < LEAST_FAMILY:
            rows += [_row([piece]) for piece in family]
        else:
            widths = sorted(size(piece.block)[0] for piece in family)
            room = base.room[0] - ONE_MORE + PIECE_GAP
            count = max(1, floor(room / (widths[len(widths) // 2] + PIECE_GAP) + 1e-6))
            for first in range(0, len(family), count):
                fitting = _fitting(family[first : first + count], base.room[0])
                rows.append(fitting[0])
                spilled += fitting[1:]
        start = end
    return rows + spilled


def _alike(one: Piece, other: Piece) -> bool:
    """Whether two pieces are of about one size."""
    if one.head or other.head:
        return False
    pairs = zip(size(one.block), size(other.block), strict=True)
    return all(max(a, b) <= max(1.4 * min(a, b), min(a, b) + 2 * ONE_MORE) for a, b in pairs)


def _fitting(pieces: Sequence[Piece], room: float) -> list[_Row]:
    """Pieces of a family in one row, in several where some are too wide."""
    rows: list[_Row] = []
    for piece in pieces:
        longer = _row([*(each for stack in rows[-1].stacks for each in stack), piece], closed=True) if rows else None
        if longer is not None and longer.width <= room:
            rows[-1] = longer
        else:
            rows.append(_row([piece], closed=True))
    return rows


def placed_shapes(sheet: Filled) -> tuple[Group, ...]:
    """The pieces of a sheet as groups at their places: rows centred, spare height spread evenly."""
    left, top, right, bottom = sheet.paper.area
    highs = [row.height for row in sheet.rows]
    used = sum(highs)
    spare = (bottom - top) - used
    gap = min(spare / (len(sheet.rows) + 1), ROW_GAP + MOST_SPREAD) if len(sheet.rows) > 1 else 0.0
    y = top + (spare - gap * (len(sheet.rows) - 1)) / 2
    found: list[Group] = []
    for row, high in zip(sheet.rows, highs, strict=True):
        wides = [max(size(piece.block)[0] for piece in stack) for stack in row.stacks]
        loose = (right - left) - sum(wides)
        step = min(loose / (len(wides) + 1), 2.0)
        x = left + (loose - step * (len(wides) - 1)) / 2
        for stack, wide in zip(row.stacks, wides, strict=True):
            found += _stacked(stack, x, y, high)
            x += wide + step
        y += high + gap
    return tuple(found)


def _stacked(stack: Sequence[Piece], x: float, y: float, high: float) -> list[Group]:
    """Pieces under each other from (x, y), left edges in one line, the spare height between them."""
    spare = high - sum(size(piece.block)[1] for piece in stack)
    gap = spare / (len(stack) - 1) if len(stack) > 1 else 0.0
    found = []
    for piece in stack:
        origin = (_down(x - piece.block.left), _down(y - min(piece.block.top, 0.0)))
        found.append(Group(origin, piece.block.shapes, piece.key, "piece"))
        y += size(piece.block)[1] + min(gap, ROW_GAP + MOST_SPREAD)
    return found


def _down(value: float) -> float:
    return round(floor(value / GRID + 1e-6) * GRID, 6)


def flag_places(sheets: Sequence[tuple[str, Paper, Sequence[Shape]]]) -> dict[str, tuple[str, str]]:
    """Flag id -> (sheet number, zone) of every flag."""
    places: dict[str, tuple[str, str]] = {}
    for number, paper, shapes in sheets:
        for group, (x, y) in groups(shapes):
            if group.kind == "flag":
                box = bounds(Group((x, y), group.shapes))
                places[group.id] = (number, paper.zone((box[0] + box[2]) / 2, (box[1] + box[3]) / 2))
    return places


def partner(flag_id: str) -> str:
    """The id of the flag at the other end."""
    name, _, end = flag_id.rpartition("|")
    return f"{name}|{'in' if end == 'out' else 'out'}"


def with_references(shape: Shape, places: Mapping[str, tuple[str, str]]) -> Shape:
    """The shape with the last line of every flag replaced by its partner's sheet and zone."""
    if not isinstance(shape, Group):
        return shape
    if shape.kind == "flag":
        number, zone = places.get(partner(shape.id), ("", ""))
        word = "SEE" if shape.id.endswith("|out") else "FROM"
        last = shape.shapes[-1]
        assert isinstance(last, Label)
        text = f"{word} {number} {zone}" if number else "NOT SHOWN"
        fresh = label(text, last.at, last.height, last.bold, last.anchor, last.turn, last.layer)
        return replace(shape, shapes=(*shape.shapes[:-1], fresh))
    if not _holds_flag(shape):
        return shape
    return replace(shape, shapes=tuple(with_references(part, places) for part in shape.shapes))


def _holds_flag(shape: Group) -> bool:
    return any(isinstance(part, Group) and (part.kind == "flag" or _holds_flag(part)) for part in shape.shapes)
