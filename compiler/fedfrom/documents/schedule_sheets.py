"""Schedules of gear as drawing sheets, in the frame of all drawings: the same views as the printed schedules."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from fedfrom.documents.drawing_files import drawing_output
from fedfrom.documents.schedules.board_form import BoardSchedule
from fedfrom.documents.schedules.panel_form import PanelSchedule, Place
from fedfrom.documents.schedules.sheets import GearSchedule, gear_schedules
from fedfrom.documents.tables import Table, cell_text
from fedfrom.drawing.grid_table import (
    Grid,
    GridColumn,
    GridRow,
    draw_fields,
    draw_grid,
    fields_height,
    grid_height,
    head_height,
    row_height,
)
from fedfrom.rules.registry import Design

if TYPE_CHECKING:
    from fedfrom.drawing.scene import Drawing, Shape

FIRST_SHEET = 701
GAP = 0.30
BLOCK_GAP = 0.45
LEAST_WIDTH = 12.5
"""Two schedules stand beside each other where each gets this width, inches."""
ACROSS = 4

SIDE = (
    GridColumn("CKT", 0.30, True),
    GridColumn("LOAD SERVED", 1.75),
    GridColumn("LOAD CATEGORY", 0.60),
    GridColumn("MARKS", 0.45),
    GridColumn("BREAKER A", 0.45, True),
    GridColumn("P", 0.20, True),
    GridColumn("DEVICE", 0.50),
    GridColumn("CONDUCTORS", 1.50),
    GridColumn("FT", 0.32, True),
    GridColumn("DROP %", 0.35, True),
    GridColumn("VA", 0.55, True),
)
VA = len(SIDE) - 1


@dataclass(frozen=True, slots=True)
class Block:
    """One schedule, or a part of a long one, ready to place: name, shapes from (0, 0), height in inches."""

    name: str
    shapes: tuple[Shape, ...]
    height: float


def schedule_drawing(design: Design) -> Drawing:
    """The drawing: schedules in source order, columns filled from the top."""
    from fedfrom.drawing.papers import paper_named
    from fedfrom.drawing.scene import Drawing
    from fedfrom.drawing.sheet_set import Body, framed, piece
    from fedfrom.drawing.words import words

    paper = paper_named(design.results.project.sheet_size)
    width, height = paper.room
    across = max(1, int((width + GAP) / (LEAST_WIDTH + GAP)))
    column = round((width - GAP * (across - 1)) / across, 3)
    blocks = [block for schedule in gear_schedules(design) for block in _blocks(schedule, column, height)]
    title = words("titles")["schedules"]
    bodies = []
    for index, columns in enumerate(_columns(blocks, across, height)):
        shapes = []
        for number, members in enumerate(columns):
            y = 0.0
            for block in members:
                at = (round(paper.area[0] + number * (column + GAP), 4), round(paper.area[1] + y, 4))
                shapes.append(piece(block.name, block.shapes, at))
                y += block.height + BLOCK_GAP
        names = [block.name.partition(" ")[0] for members in columns for block in members]
        subtitle = ", ".join(dict.fromkeys(names))
        subtitle = subtitle if len(subtitle) <= 44 else f"{names[0]} TO {names[-1]}"
        body = Body(
            f"E-{FIRST_SHEET + index}", paper, tuple(shapes), title, subtitle, tuple(words("schedule-notes").values())
        )
        bodies.append(body)
    return framed("schedule-sheets", bodies, design.results) if bodies else Drawing("schedule-sheets", title, ())


def _columns(blocks: Sequence[Block], across: int, height: float) -> list[list[list[Block]]]:
    """Blocks in columns, columns on sheets, in their order."""
    sheets: list[list[list[Block]]] = []
    used = height + 1.0
    for block in blocks:
        if used + BLOCK_GAP + block.height > height:
            if not sheets or len(sheets[-1]) == across:
                sheets.append([])
            sheets[-1].append([])
            used = -BLOCK_GAP
        sheets[-1][-1].append(block)
        used += BLOCK_GAP + block.height
    return sheets


def _blocks(schedule: GearSchedule, width: float, most: float) -> list[Block]:
    """A schedule as one block, or as several where it is higher than a sheet."""
    grid = _grid(schedule).stretched(width)
    head = fields_height(schedule.header, ACROSS, width) + 0.35
    foot = _foot_height(schedule, width)
    rows = list(grid.rows)
    blocks: list[Block] = []
    while True:
        count = _fitting(grid, rows, most - head - foot - 0.2)
        last = count >= len(rows)
        if not last:
            count = max(1, _fitting(grid, rows, most - head - 0.2))
            while count < len(rows) and rows[count].open and count > 1:
                count -= 1
            last = count >= len(rows)
        part = replace(grid, rows=tuple(rows[:count]))
        more = " (CONTINUED)" if blocks else ""
        name = f"{schedule.tag} {schedule.kind.upper()} SCHEDULE{more}"
        blocks.append(_block(name, schedule, part, width, head, last and _fits(grid, rows, most - head - foot - 0.2)))
        rows = rows[count:]
        if not rows:
            return blocks


def _fitting(grid: Grid, rows: Sequence[GridRow], most: float) -> int:
    used = head_height(grid)
    for index, row in enumerate(rows):
        used += row_height(row, grid.columns)
        if used > most:
            return index
    return len(rows)


def _fits(grid: Grid, rows: Sequence[GridRow], most: float) -> bool:
    return _fitting(grid, rows, most) >= len(rows)


def _block(name: str, schedule: GearSchedule, grid: Grid, width: float, head: float, foot: bool) -> Block:
    from fedfrom.drawing.shapes import label
    from fedfrom.drawing.style import TITLE_TEXT

    title = f"{name}: {schedule.title.upper()}" if schedule.title else name
    shapes: list[Shape] = [label(title, (0.0, 0.18), TITLE_TEXT * 0.85, True)]
    shapes += draw_fields(schedule.header, ACROSS, width, 0.0, 0.30)
    shapes += draw_grid(grid, 0.0, head)
    y = head + grid_height(grid)
    if foot:
        shapes += _foot(schedule, width, y + 0.10)
        y += _foot_height(schedule, width)
    return Block(name, tuple(shapes), round(y, 4))


def _foot_parts(
    schedule: GearSchedule, width: float
) -> tuple[Grid, list[tuple[str, str]], list[tuple[str, str]], float]:
    share = round(width * 0.58, 4)
    grid = _table(schedule.loads.categories).stretched(share)
    sums = [*schedule.loads.phases, *schedule.loads.sums]
    notes = [("NOTE", note) for note in schedule.loads.notes]
    return grid, sums, notes, share


def _foot_height(schedule: GearSchedule, width: float) -> float:
    grid, sums, notes, share = _foot_parts(schedule, width)
    rest = width - share - 0.25
    right = fields_height(sums, 2, rest) + fields_height(notes, 1, rest) + 0.1
    return round(0.15 + max(grid_height(grid), right), 4)


def _foot(schedule: GearSchedule, width: float, y: float) -> list[Shape]:
    """Load by category at the left; sums and notes at the right."""
    grid, sums, notes, share = _foot_parts(schedule, width)
    x, rest = share + 0.25, width - share - 0.25
    below = round(y + fields_height(sums, 2, rest) + 0.06, 4)
    return [*draw_grid(grid, 0.0, y), *draw_fields(sums, 2, rest, x, y), *draw_fields(notes, 1, rest, x, below)]


def _grid(schedule: GearSchedule) -> Grid:
    return _table(schedule.devices) if isinstance(schedule, BoardSchedule) else _panel(schedule)


def _table(table: Table) -> Grid:
    from fedfrom.drawing.lettering import lettered

    columns = tuple(GridColumn(f"{each.head} {each.unit}".strip(), each.width, each.right) for each in table.columns)
    rows = tuple(
        GridRow(tuple(lettered(cell_text(cell, each.digits)) for cell, each in zip(row, table.columns, strict=True)))
        for row in table.rows
    )
    return Grid(table.title, columns, rows)


def _panel(schedule: PanelSchedule) -> Grid:
    """Odd positions at the left in mirrored order, the phase in the middle, even ones at the right."""
    columns = (*SIDE[::-1], GridColumn("PH", 0.25), *SIDE)
    rows = []
    for odd, letter, even in schedule.pairs:
        left, right = _place(odd)[::-1], _place(even)
        count = len(SIDE)
        covered = {index for index in range(1, count) if odd.rows == 0 and index != count - 1}
        covered |= {count + 1 + index for index in range(1, VA) if even.rows == 0}
        tall = [(index, odd.rows) for index in range(1, count - 1) if odd.rows > 1]
        tall += [(count + 1 + index, even.rows) for index in range(1, VA) if even.rows > 1]
        rows.append(GridRow((*left, letter, *right), frozenset(covered), tuple(tall)))
    return Grid("", columns, tuple(rows))


def _place(place: Place) -> tuple[str, ...]:
    from fedfrom.drawing.lettering import lettered

    marks = " ".join(word for word in (place.marks, place.note) if word)
    amperes = place.amperes if isinstance(place.amperes, str) else cell_text(place.amperes)
    return (
        str(place.number), lettered(place.name), place.category, marks, amperes, cell_text(place.poles), place.device,
        place.conductors, cell_text(place.length_ft), cell_text(place.drop_pct, 1), cell_text(place.va),
    )  # fmt: skip


OUTPUT = drawing_output("schedule-sheets", "Gear schedules as drawing sheets", schedule_drawing)
