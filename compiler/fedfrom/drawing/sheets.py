"""Sheets: pieces in rows, zones, and the pairs of continuation flags."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import floor

from fedfrom.drawing.pieces import Piece, size
from fedfrom.drawing.scene import Group, Label, Shape
from fedfrom.drawing.shapes import bounds, groups, label
from fedfrom.drawing.style import GRID

PIECE_GAP = 0.35
ROW_GAP = 0.45
MOST_SPREAD = 1.5


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet size and its margins in inches; the strip is the title strip at the right edge.

    ANSI D is 34 x 22 (ASME Y14.1); the margins are ours: 1.5 at the binding edge, 0.5 at the others.
    """

    name: str
    width: float
    height: float
    left: float = 1.5
    other: float = 0.5
    strip: float = 3.2
    pad: float = 0.2

    @property
    def area(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom of the field for the drawing."""
        return (
            self.left + self.pad,
            self.other + self.pad,
            self.width - self.other - self.strip - self.pad,
            self.height - self.other - self.pad,
        )

    @property
    def room(self) -> tuple[float, float]:
        """Width and height of that field."""
        left, top, right, bottom = self.area
        return round(right - left, 6), round(bottom - top, 6)

    def zone(self, x: float, y: float) -> str:
        """The zone of a point: columns 1 to 8 from the right, rows A to D from the bottom (ASME Y14.1 style)."""
        left, right = self.left, self.width - self.other
        column = 8 - min(7, max(0, floor((x - left) / (right - left) * 8)))
        row = min(3, max(0, floor((self.height - self.other - y) / (self.height - 2 * self.other) * 4)))
        return f"{'ABCD'[row]}{column}"


ANSI_D = Paper("ANSI D, 22 x 34", 34.0, 22.0)


def paper_for(piece: Piece) -> Paper:
    """ANSI D, or a sheet grown in steps of an inch for a piece that cannot be made smaller."""
    wide, high = size(piece.block)
    over_x = max(0, -floor((ANSI_D.room[0] - wide) + 1e-6))
    over_y = max(0, -floor((ANSI_D.room[1] - high) + 1e-6))
    if not over_x and not over_y:
        return ANSI_D
    width, height = ANSI_D.width + over_x, ANSI_D.height + over_y
    return replace(ANSI_D, name=f"{height:g} x {width:g}", width=width, height=height)


@dataclass(slots=True)
class _Row:
    pieces: list[Piece]
    width: float
    height: float
    closed: bool = False


@dataclass(slots=True)
class Filled:
    """A sheet's paper and its pieces with their places (origin of each block)."""

    paper: Paper
    rows: list[_Row]

    def takes(self, piece: _Row) -> bool:
        """Take a row of one piece into a row of the sheet or as a new one; False when there is no room."""
        if self.paper is not ANSI_D:
            return False
        width, height = self.paper.room
        total = sum(row.height for row in self.rows) + ROW_GAP * (len(self.rows) - 1)
        for row in self.rows if not piece.closed else ():
            fits = row.width + PIECE_GAP + piece.width <= width
            if not row.closed and fits and total - row.height + max(row.height, piece.height) <= height:
                row.pieces += piece.pieces
                row.width += PIECE_GAP + piece.width
                row.height = max(row.height, piece.height)
                return True
        if total + ROW_GAP + piece.height <= height:
            self.rows.append(piece)
            return True
        return False


def fill(pieces: Sequence[Piece]) -> list[Filled]:
    """Pieces in their order, each into the first row or sheet where it fits. A head is a row of its own."""
    sheets: list[Filled] = []
    for piece in pieces:
        wide, high = size(piece.block)
        paper = paper_for(piece)
        row = _Row([piece], wide, high, closed=piece.head)
        if paper is not ANSI_D or not any(sheet.takes(row) for sheet in sheets):
            sheets.append(Filled(paper, [row]))
    return sheets


def placed_shapes(sheet: Filled) -> tuple[Group, ...]:
    """The pieces of a sheet as groups at their places: rows centred, spare height spread evenly."""
    left, top, right, bottom = sheet.paper.area
    used = sum(row.height for row in sheet.rows)
    spare = (bottom - top) - used
    gap = min(spare / (len(sheet.rows) + 1), ROW_GAP + MOST_SPREAD) if len(sheet.rows) > 1 else 0.0
    y = top + (spare - gap * (len(sheet.rows) - 1)) / 2
    found = []
    for row in sheet.rows:
        loose = (right - left) - row.width + PIECE_GAP * (len(row.pieces) - 1)
        step = min(loose / (len(row.pieces) + 1), 2.0)
        x = left + (loose - step * (len(row.pieces) - 1)) / 2
        for piece in row.pieces:
            wide, _ = size(piece.block)
            origin = (_down(x - piece.block.left), _down(y - min(piece.block.top, 0.0)))
            found.append(Group(origin, piece.block.shapes, piece.key, "piece"))
            x += wide + step
        y += row.height + gap
    return tuple(found)


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
