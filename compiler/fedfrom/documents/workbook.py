"""Workbooks for readers: headings, label-value blocks and tables on worksheets that print on 11x17."""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from datetime import UTC, datetime
from typing import Any

from fedfrom.documents.registry import DOCUMENT_EPOCH
from fedfrom.documents.tables import NOT_KNOWN, Cell, Column, Table

# Worksheet names: at most 31 characters, without these.
_BAD_IN_NAME = str.maketrans(dict.fromkeys("[]:*?/\\'", " "))
_TABLOID = 17  # 11x17 in the numbering of the file format
_CHARACTERS_PER_INCH = 11.0


class Book:
    """A workbook under construction; `close` gives its bytes."""

    def __init__(self, title: str) -> None:
        import xlsxwriter

        self._buffer = io.BytesIO()
        options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
        self._book = xlsxwriter.Workbook(self._buffer, options)
        self._book.set_properties({"title": title, "created": datetime(*DOCUMENT_EPOCH, tzinfo=UTC)})
        self._formats: dict[tuple[object, ...], Any] = {}
        self._names: dict[str, str] = {}
        self._taken: set[str] = set()

    def page(self, wanted: str, footer: str) -> Page:
        """A new worksheet, named as wanted as far as the file format lets it."""
        name = self._free_name(wanted)
        self._names[wanted] = name
        sheet = self._book.add_worksheet(name)
        sheet.set_landscape()
        sheet.set_paper(_TABLOID)
        sheet.set_margins(0.5, 0.5, 0.6, 0.6)
        sheet.fit_to_pages(1, 0)
        sheet.hide_gridlines(2)
        escaped = footer.replace("&", "&&")
        sheet.set_footer(f"&L{escaped}&C&A&RPage &P of &N"[:255])
        return Page(self, sheet, name)

    def name_of(self, wanted: str) -> str:
        """The name that the worksheet got."""
        return self._names[wanted]

    def format(self, **properties: object) -> Any:
        """A cell format, made once for each set of properties."""
        key = tuple(sorted(properties.items()))
        if key not in self._formats:
            self._formats[key] = self._book.add_format({"font_name": "Arial", "font_size": 9, **properties})
        return self._formats[key]

    def close(self) -> bytes:
        """Finish and give the bytes; the book cannot be used afterwards."""
        self._book.close()
        return self._buffer.getvalue()

    def _free_name(self, wanted: str) -> str:
        base = wanted.translate(_BAD_IN_NAME).strip() or "Sheet"
        name, number = base[:31], 2
        while name.lower() in self._taken or name.lower() == "history":
            ending = f" ({number})"
            name = base[: 31 - len(ending)] + ending
            number += 1
        self._taken.add(name.lower())
        return name


class Page:
    """One worksheet, written from top to bottom."""

    def __init__(self, book: Book, sheet: Any, name: str) -> None:
        self.name = name
        self._book = book
        self._sheet = sheet
        self._row = 0
        self._widths: dict[int, float] = {}

    def heading(self, text: str, right: str) -> None:
        """The first line: what it is, and what kind of schedule."""
        self._sheet.write_string(self._row, 0, text, self._book.format(bold=True, font_size=14))
        if right:
            self._sheet.write_string(self._row + 1, 0, right, self._book.format(bold=True))
        self._row += 3 if right else 2

    def fields(self, pairs: Sequence[tuple[str, str]], blocks: Sequence[tuple[int, int]] = ((0, 2),)) -> None:
        """Label and value, in as many blocks side by side as `blocks` has (column of label, column of value)."""
        label = self._book.format(bold=True, font_size=8)
        value = self._book.format()
        for index, (name, text) in enumerate(pairs):
            line, block = divmod(index, len(blocks))
            at, value_at = blocks[block]
            self._sheet.write_string(self._row + line, at, name, label)
            self._sheet.write_string(self._row + line, value_at, text, value)
        self._row += -(-len(pairs) // len(blocks)) + 1

    def line(self, text: str) -> None:
        """A line of text."""
        self._sheet.write_string(self._row, 0, text, self._book.format())
        self._row += 1

    def gap(self) -> None:
        self._row += 1

    def links(self, entries: Iterable[tuple[str, str]]) -> None:
        """Links to other worksheets."""
        style = self._book.format(underline=1)
        for text, name in entries:
            quoted = name.replace("'", "''")
            self._sheet.write_url(self._row, 0, f"internal:'{quoted}'!A1", style, text)
            self._row += 1
        self._row += 1

    def table(self, table: Table, *, freeze: bool = False, across: Sequence[int] = ()) -> None:
        """A whole table with its note. `across`: how many worksheet columns each of its columns covers."""
        self.columns(table.columns, freeze=freeze, across=across)
        for cells in table.rows:
            self.row(table.columns, cells, across=across)
        if table.note:
            self._sheet.write_string(self._row, 0, table.note, self._book.format(italic=True, font_size=8))
            self._row += 1
        self._row += 1

    def columns(self, columns: Sequence[Column], *, freeze: bool = False, across: Sequence[int] = ()) -> None:
        """The heads of a table; `freeze` keeps them in sight and repeats them in print."""
        at = 0
        for index, column in enumerate(columns):
            side = {"align": "right", "indent": 1} if column.right else {"align": "left"}
            style = self._book.format(
                bold=True, font_size=8, border=1, bottom=2, text_wrap=True, valign="bottom", **side
            )
            text = f"{column.head}\n{column.unit}" if column.unit else column.head
            width = across[index] if across else 1
            if not across:
                longest = max((len(word) for word in f"{column.head} {column.unit}".split()), default=0)
                self._widen(at, max(column.width + 0.1, longest * 0.09 + 0.15))
            self._write(self._row, at, 1, width, text, style)
            at += width
        self._sheet.set_row(self._row, 26)
        if freeze:
            self._sheet.freeze_panes(self._row + 1, 0)
            self._sheet.repeat_rows(self._row)
        self._row += 1

    def row(
        self, columns: Sequence[Column], cells: Sequence[Cell], *, across: Sequence[int] = (), down: Sequence[int] = ()
    ) -> None:
        """One row; numbers are written as numbers with the decimals of their column.

        `down`: how many rows each cell covers, 0 where one above covers it.
        """
        at = 0
        lines = 1
        for index, (column, cell) in enumerate(zip(columns, cells, strict=True)):
            width = across[index] if across else 1
            rows = down[index] if down else 1
            if rows:
                self._write(self._row, at, rows, width, NOT_KNOWN if cell is None else cell, self._style(column, cell))
            if isinstance(cell, str) and rows == 1:
                lines = max(lines, self._lines(cell, at, width))
            at += width
        self._sheet.set_row(self._row, 12.75 * lines)
        self._row += 1

    def _style(self, column: Column, cell: Cell) -> Any:
        if isinstance(cell, int | float):
            pattern = "#,##0" + ("." + "0" * column.digits if column.digits else "")
            return self._book.format(border=1, num_format=pattern, valign="vcenter", align="right", indent=1)
        side = {"align": "right", "indent": 1} if column.right else {"align": "left"}
        return self._book.format(border=1, valign="vcenter", text_wrap=True, bold=cell is None, **side)

    def _write(self, row: int, at: int, rows: int, width: int, value: str | float, style: Any) -> None:
        if rows > 1 or width > 1:
            self._sheet.merge_range(row, at, row + rows - 1, at + width - 1, "", style)
        if isinstance(value, str):
            self._sheet.write_string(row, at, value, style)
        else:
            self._sheet.write_number(row, at, value, style)

    def _lines(self, text: str, at: int, width: int) -> int:
        """Lines that a wrapped text takes, on the safe side; the readers of the file do not reckon it anew."""
        inches = sum(self._widths.get(column, 0.7) for column in range(at, at + width))
        return -(-len(text) // max(1, int(inches * _CHARACTERS_PER_INCH * 1.25)))

    def _widen(self, at: int, inches: float) -> None:
        if inches > self._widths.get(at, 0.0):
            self._widths[at] = inches
            self._sheet.set_column(at, at, inches * _CHARACTERS_PER_INCH)
