"""Tables on drawing sheets: ruled columns, cells wrapped at their width, rows as high as their text."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from fedfrom.drawing.lettering import lettered, measure, printable, wrap
from fedfrom.drawing.scene import Shape
from fedfrom.drawing.shapes import label, line
from fedfrom.drawing.style import FRAME_THIN, NOTE_PITCH, NOTE_TEXT, TEXT

INSET = 0.05
TITLE_HEIGHT = 0.26
#: A word up to this wide, with its margins in inches, is not parted in a cell.
LONG_WORD = 0.9


@dataclass(frozen=True, slots=True)
class GridColumn:
    """A column: heading (with its unit), width in inches, numbers at the right edge."""

    head: str
    width: float
    right: bool = False


@dataclass(frozen=True, slots=True)
class GridRow:
    """Cells of a row; `open` are the numbers of columns without a line above: their cell belongs to the one above.

    `tall`: (column, rows) of cells that go on below, whose text may use the rows that they cover.
    """

    cells: tuple[str, ...]
    open: frozenset[int] = frozenset()
    tall: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Grid:
    """A table to draw."""

    title: str
    columns: tuple[GridColumn, ...]
    rows: tuple[GridRow, ...]

    @property
    def width(self) -> float:
        return round(sum(column.width for column in self.columns), 6)

    def stretched(self, width: float) -> Grid:
        """The same table at another width: columns alike, but none narrower than the longest word of its heading.

        Nor than those of its cells, a very long tag left out, where the table has the room.
        """
        heads = [_least(column.head.split(), True) for column in self.columns]
        words = [{word for row in self.rows for word in row.cells[index].split()} for index in range(len(heads))]
        cells = [max(head, min(_least(found), LONG_WORD)) for head, found in zip(heads, words, strict=True)]
        least = cells if sum(cells) <= width else heads
        narrow: set[int] = set()
        while True:
            fixed = sum(least[index] for index in narrow)
            loose = sum(each.width for index, each in enumerate(self.columns) if index not in narrow)
            factor = (width - fixed) / loose if loose else 1.0
            more = {
                index for index, each in enumerate(self.columns)
                if index not in narrow and each.width * factor < least[index]
            }  # fmt: skip
            if not more:
                break
            narrow |= more
        widths = [
            least[index] if index in narrow else round(each.width * factor, 4)
            for index, each in enumerate(self.columns)
        ]
        pairs = zip(self.columns, widths, strict=True)
        return replace(self, columns=tuple(replace(each, width=wide) for each, wide in pairs))


def _least(words: Iterable[str], bold: bool = False) -> float:
    longest = max((measure(printable(word), NOTE_TEXT, bold) for word in words), default=0.0)
    return round(longest + 2 * INSET + 0.01, 4)


def _wrapped(text: str, column: GridColumn, bold: bool = False) -> tuple[str, ...]:
    width = column.width - 2 * INSET
    clean = printable(text)
    return (clean,) if measure(clean, NOTE_TEXT, bold) <= width else wrap(clean, width, NOTE_TEXT, bold)


def row_height(row: GridRow, columns: Sequence[GridColumn]) -> float:
    """The height of a row in inches."""
    tall = dict(row.tall)
    needed = 1
    for index, (text, column) in enumerate(zip(row.cells, columns, strict=True)):
        if text:
            needed = max(needed, len(_wrapped(text, column)) - tall.get(index, 1) + 1)
    return _height(needed)


def _height(lines: int) -> float:
    return round(NOTE_PITCH * lines + 0.04, 4)


def head_height(grid: Grid) -> float:
    """Title and headings, inches."""
    lines = max(len(_wrapped(column.head, column, True)) for column in grid.columns)
    return round((TITLE_HEIGHT if grid.title else 0.0) + _height(lines) + 0.03, 4)


def grid_height(grid: Grid) -> float:
    """The height of the whole table in inches."""
    return round(head_height(grid) + sum(row_height(row, grid.columns) for row in grid.rows), 4)


def draw_grid(grid: Grid, x: float, y: float) -> list[Shape]:
    """The table with its upper left corner at (x, y)."""
    edges = [
        round(x + sum(column.width for column in grid.columns[:index]), 4) for index in range(len(grid.columns) + 1)
    ]
    shapes: list[Shape] = []
    top = y
    if grid.title:
        shapes.append(label(grid.title, (x, round(y + 0.16, 4)), TEXT, True))
        top = round(y + TITLE_HEIGHT, 4)
    level = round(y + head_height(grid), 4)
    shapes.append(line(edges[0], top, edges[-1], top, FRAME_THIN))
    for column, left in zip(grid.columns, edges, strict=False):
        shapes += _cell(_wrapped(column.head, column, True), column, left, round(top + 0.015, 4), bold=True)
    for row in grid.rows:
        shapes += _rules(row, edges, level)
        for text, column, left in zip(row.cells, grid.columns, edges, strict=False):
            if text:
                shapes += _cell(_wrapped(text, column), column, left, level)
        level = round(level + row_height(row, grid.columns), 4)
    shapes.append(line(edges[0], level, edges[-1], level, FRAME_THIN))
    shapes += [line(edge, top, edge, level, FRAME_THIN) for edge in edges]
    return shapes


def _rules(row: GridRow, edges: Sequence[float], y: float) -> list[Shape]:
    """The line above a row, left out over open cells."""
    shapes: list[Shape] = []
    start: float | None = None
    for index, edge in enumerate(edges):
        closed = index < len(edges) - 1 and index not in row.open
        if closed and start is None:
            start = edge
        elif not closed and start is not None:
            shapes.append(line(start, y, edge, y, FRAME_THIN))
            start = None
    return shapes


def _cell(lines: Sequence[str], column: GridColumn, left: float, top: float, bold: bool = False) -> list[Shape]:
    anchor = "end" if column.right else "start"
    at = round(left + column.width - INSET if column.right else left + INSET, 4)
    return [
        label(text, (at, round(top + 0.035 + NOTE_TEXT + index * NOTE_PITCH, 4)), NOTE_TEXT, bold, anchor)
        for index, text in enumerate(lines)
        if text
    ]


def fields_height(fields: Sequence[tuple[str, str]], across: int, width: float) -> float:
    """The height of captions with values, `across` of them side by side."""
    return round(sum(_height(high) for high in _field_lines(fields, across, width)), 4)


def _field_lines(fields: Sequence[tuple[str, str]], across: int, width: float) -> list[int]:
    column = width / across - 0.15
    counts = [len(_field(each, column)) for each in fields]
    return [max(counts[start : start + across]) for start in range(0, len(counts), across)]


def _field(field: tuple[str, str], width: float) -> tuple[str, ...]:
    return wrap(lettered(f"{field[0]}: {field[1]}"), width, NOTE_TEXT)


def draw_fields(fields: Sequence[tuple[str, str]], across: int, width: float, x: float, y: float) -> list[Shape]:
    """Captions with values in rows of `across`."""
    shapes: list[Shape] = []
    column = width / across
    level = y
    for row, high in enumerate(_field_lines(fields, across, width)):
        for index, field in enumerate(fields[row * across : (row + 1) * across]):
            at = round(x + index * column, 4)
            for number, text in enumerate(_field(field, column - 0.15)):
                base = round(level + 0.035 + NOTE_TEXT + number * NOTE_PITCH, 4)
                shapes.append(label(text, (at, base), NOTE_TEXT))
        level = round(level + _height(high), 4)
    return shapes
