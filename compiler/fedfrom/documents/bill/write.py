"""The bill as CSV (one table, for programs) and as a workbook (one worksheet a list, for people)."""

from __future__ import annotations

import csv
import io

from fedfrom.documents.bill.sheets import BillView
from fedfrom.documents.tables import NOT_KNOWN, Cell
from fedfrom.documents.words import CAUTION
from fedfrom.documents.workbook import Book
from fedfrom.rules.registry import Design


def bill_csv(view: BillView) -> bytes:
    """All lists in one table: a column `list`, then the columns of the bill in lower case; UTF-8, CR LF (RFC 4180)."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    if view.tables:
        writer.writerow(["list", *(column.head.lower() for column in view.tables[0].columns)])
    for table in view.tables:
        for row in table.rows:
            writer.writerow([table.title.lower(), *(_csv_cell(cell) for cell in row)])
    return out.getvalue().encode()


def _csv_cell(cell: Cell) -> str:
    """A cell for CSV. A text that a spreadsheet would take for a formula gets an apostrophe before it."""
    if cell is None:
        return NOT_KNOWN
    if isinstance(cell, str):
        text = cell.strip()
        return f"'{text}" if text[:1] in {"=", "+", "-", "@"} else text
    return f"{cell:.2f}".rstrip("0").rstrip(".")


def bill_xlsx(design: Design, view: BillView) -> bytes:
    """One worksheet a list, and one with the remarks."""
    info = design.results.project
    book = Book(f"{info.title} bill of materials".strip())
    footer = f"{info.title} {info.number}".strip()
    for table in view.tables:
        page = book.page(table.title.capitalize(), footer)
        page.heading(f"{table.title}  {info.title}".strip(), f"{info.number}   {CAUTION}".strip())
        page.table(table, freeze=True)
    remarks = book.page("Remarks", footer)
    remarks.heading("REMARKS", "")
    for line in view.remarks:
        remarks.line(line)
    return book.close()
