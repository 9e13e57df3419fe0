"""The schedules as a workbook: a worksheet for each piece of gear and each table, numbers as numbers."""

from __future__ import annotations

from typing import Any

from fedfrom.documents.schedules.board_form import BoardSchedule
from fedfrom.documents.schedules.header import Fields, LoadBlock
from fedfrom.documents.schedules.panel_form import PanelSchedule, Place
from fedfrom.documents.schedules.review_tables import count_text
from fedfrom.documents.schedules.sheets import gear_schedules, legend_table, table_sheets
from fedfrom.documents.tables import Cell, Column
from fedfrom.documents.words import CAUTION
from fedfrom.documents.workbook import Book, Page
from fedfrom.rules.registry import Design

SIDE: tuple[tuple[Column, str], ...] = (
    (Column("LOAD SERVED", width=2.6), "name"),
    (Column("LOAD CATEGORY", width=1.0), "category"),
    (Column("MARKS", width=0.8), "marks"),
    (Column("A", width=0.45, right=True), "amperes"),
    (Column("P", width=0.35, right=True), "poles"),
    (Column("OPTIONS", width=0.9), "device"),
    (Column("CONDUCTORS", width=2.4), "conductors"),
    (Column("FT", width=0.5, right=True), "length_ft"),
    (Column("DROP %", width=0.6, digits=1, right=True), "drop_pct"),
    (Column("NOTE", width=0.5), "note"),
)
STRIP = (
    Column("NO.", width=0.45, right=True),
    Column("ODD VA", width=0.7, right=True),
    Column("PH", width=0.4),
    Column("EVEN VA", width=0.7, right=True),
    Column("NO.", width=0.45, right=True),
)


def schedules_xlsx(design: Design) -> bytes:
    """All schedules as one workbook."""
    book = Book(f"{design.results.project.title} schedules".strip())
    footer = f"{design.results.project.title} {design.results.project.number}".strip()
    first = book.page("Contents", footer)
    first.heading(design.results.project.title or "PROJECT NOT NAMED", "SCHEDULES")
    first.fields((("CODE", design.results.project.code), ("FINDINGS", count_text(design)), ("CAUTION", CAUTION)))
    schedules = gear_schedules(design)
    for schedule in schedules:
        page = book.page(schedule.tag, footer)
        page.heading(f"{schedule.tag}  {schedule.title}".strip(), f"{schedule.kind.upper()} SCHEDULE")
        if isinstance(schedule, BoardSchedule):
            _board(page, schedule)
        else:
            _panel(page, schedule)
    names = []
    for sheet in table_sheets(design):
        for table in sheet.tables:
            page = book.page(table.title.capitalize(), footer)
            page.heading(table.title, "")
            page.table(table, freeze=True)
            names.append((table.title, page.name))
    first.links([(f"{each.tag}  {each.title}".strip(), book.name_of(each.tag)) for each in schedules] + names)
    first.table(legend_table())
    return book.close()


# Where label and value stand side by side, and how many worksheet columns each column of the load table covers: the
# columns of a worksheet have one width, that of its main table.
PANEL_BLOCKS = ((0, 3), (7, 9), (15, 16))
PANEL_ACROSS = (3, 1, 5, 1, 2)
BOARD_BLOCKS = ((0, 2), (5, 8), (11, 12))
BOARD_ACROSS = (2, 1, 5, 3, 1)


def _board(page: Page, schedule: BoardSchedule) -> None:
    page.fields(schedule.header, BOARD_BLOCKS)
    page.table(schedule.devices, freeze=True)
    _loads(page, schedule.loads, BOARD_BLOCKS, BOARD_ACROSS)


def _panel(page: Page, schedule: PanelSchedule) -> None:
    page.fields(schedule.header, PANEL_BLOCKS)
    columns = (*(column for column, _ in reversed(SIDE)), *STRIP, *(column for column, _ in SIDE))
    page.columns(columns, freeze=True)
    for odd, letter, even in schedule.pairs:
        left = [_value(odd, key) for _, key in reversed(SIDE)]
        right = [_value(even, key) for _, key in SIDE]
        down = [odd.rows] * len(SIDE) + [1] * len(STRIP) + [even.rows] * len(SIDE)
        page.row(columns, (*left, odd.number, odd.va, letter, even.va, even.number, *right), down=down)
    page.gap()
    _loads(page, schedule.loads, PANEL_BLOCKS, PANEL_ACROSS)


def _value(place: Place, key: str) -> Cell:
    value: Any = getattr(place, key)
    result: Cell = value
    return result


def _loads(page: Page, loads: LoadBlock, blocks: tuple[tuple[int, int], ...], across: tuple[int, ...]) -> None:
    page.table(loads.categories, across=across)
    sums: Fields = (*loads.phases, *loads.sums)
    page.fields(sums, blocks)
    for note in loads.notes:
        page.line(note)
