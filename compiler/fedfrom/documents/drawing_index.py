"""The first sheet of the set: index of all drawings, abbreviations, operating states."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from fedfrom.documents.drawing_files import drawing_output
from fedfrom.rules.registry import Design

if TYPE_CHECKING:
    from fedfrom.drawing.grid_table import Grid
    from fedfrom.drawing.scene import Drawing, Shape

NUMBER = "E-001"
"""Type 0, general sheets, of the Uniform Drawing System (from memory)."""
GAP = 0.6
INDEX_WIDTH = 8.0


def draw(design: Design) -> Drawing:
    from fedfrom.drawing.papers import paper_named
    from fedfrom.drawing.sheet_set import Body, framed, piece
    from fedfrom.drawing.words import words

    paper = paper_named(design.results.project.sheet_size)
    title = words("titles")["index"]
    across = max(1, int((paper.room[0] + GAP) / (INDEX_WIDTH + GAP)))
    grids = [*_index(design), _abbreviations(), _states(design)]
    apart = across >= len(grids)
    columns = (
        [column for grid in grids for column in _columns([grid], paper.room)] if apart else _columns(grids, paper.room)
    )
    pages = [columns[start : start + across] for start in range(0, len(columns), across)]
    bodies = []
    for index, page in enumerate(pages):
        shapes = []
        for number, (name, drawn) in enumerate(page):
            at = (round(paper.area[0] + number * (INDEX_WIDTH + GAP), 4), paper.area[1])
            shapes.append(piece(name, drawn, at))
        bodies.append(Body(f"E-{1 + index:03}", paper, tuple(shapes), title, "", _notes(design)))
    return framed("drawing-index", bodies, design.results)


def _notes(design: Design) -> tuple[str, ...]:
    from fedfrom.drawing.lettering import capitals
    from fedfrom.drawing.words import words

    text = words("index-notes")
    code = capitals(design.results.project.code)
    return tuple(note.format(code=code) for note in text.values())


def _columns(grids: Sequence[Grid], room: tuple[float, float]) -> list[tuple[str, list[Shape]]]:
    """Tables under each other in columns as high as the sheet; a long table goes on in the next column."""
    from dataclasses import replace

    from fedfrom.drawing.grid_table import draw_grid, grid_height, head_height, row_height

    width = min(INDEX_WIDTH, room[0])
    columns: list[tuple[str, list[Shape]]] = []
    used = room[1] + 1.0
    for whole in grids:
        grid = whole.stretched(width)
        rows = list(grid.rows)
        while rows:
            if used + head_height(grid) + 0.5 > room[1]:
                columns.append((grid.title, []))
                used = 0.0
            free = room[1] - used - head_height(grid)
            count = 0
            while count < len(rows) and free >= row_height(rows[count], grid.columns):
                free -= row_height(rows[count], grid.columns)
                count += 1
            part = replace(grid, rows=tuple(rows[: max(1, count)]))
            columns[-1][1].extend(draw_grid(part, 0.0, round(used, 4)))
            used += grid_height(part) + 0.4
            rows = rows[max(1, count) :]
    return columns


def _index(design: Design) -> list[Grid]:
    """Every sheet of every drawing, by sheet number."""
    from fedfrom.documents.registry import all_outputs
    from fedfrom.drawing.grid_table import Grid, GridColumn, GridRow
    from fedfrom.drawing.words import words

    drawings = [
        output.draw(design) for output in all_outputs() if output.draw is not None and output.name != OUTPUT.name
    ]
    revisions = design.results.project.revisions
    mark = revisions[-1][0] if revisions else ""
    rows = [(NUMBER, words("titles")["index"], "drawing-index")]
    rows += [(sheet.number, sheet.title, drawing.name) for drawing in drawings for sheet in drawing.sheets]
    rows.sort(key=lambda row: (len(row[0]), row[0]))
    columns = (GridColumn("SHEET", 0.7), GridColumn("TITLE", 4.6), GridColumn("FILE", 1.6), GridColumn("REV", 0.4))
    return [Grid("DRAWING INDEX", columns, tuple(GridRow((*row, mark)) for row in rows))]


def _states(design: Design) -> Grid:
    from fedfrom.drawing.grid_table import Grid, GridColumn, GridRow

    columns = (
        GridColumn("OPERATING STATE", 2.4), GridColumn("LOST", 1.2), GridColumn("OPEN", 1.4), GridColumn("CLOSED", 1.4),
        GridColumn("WITHOUT SUPPLY", 1.6),
    )  # fmt: skip
    rows = [
        GridRow(
            (state.name, *(", ".join(tags) or "-" for tags in (state.lost, state.opened, state.closed, state.dead)))
        )
        for state in design.results.states
    ]
    return Grid("OPERATING STATES", columns, tuple(rows))


def _abbreviations() -> Grid:
    from fedfrom.drawing.grid_table import Grid, GridColumn, GridRow
    from fedfrom.drawing.words import words

    columns = (GridColumn("MARK", 1.0), GridColumn("MEANING", 5.0))
    return Grid("ABBREVIATIONS", columns, tuple(GridRow(pair) for pair in words("abbreviations").items()))


OUTPUT = drawing_output("drawing-index", "Drawing index and abbreviations", draw)
