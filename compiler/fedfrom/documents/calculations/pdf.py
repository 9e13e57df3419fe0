"""The calculation book as PDF: layout in `templates/calculations/book.typ`, lines as in the text form."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fedfrom.documents.calculations.book import Chapter
from fedfrom.documents.calculations.forms import Form
from fedfrom.documents.calculations.text import given_lines, worked_lines
from fedfrom.documents.calculations.view import Calculation
from fedfrom.documents.typst_pdf import compile_pdf
from fedfrom.documents.words import CAUTION_TEXT
from fedfrom.rules.registry import Design

LAYOUTS = ("calculations/book.typ",)
# Characters in a line of figures on the page.
PAGE_WIDTH = 104


def book_pdf(design: Design, found: Sequence[Chapter]) -> bytes:
    """The book as letter-size pages."""
    return compile_pdf(LAYOUTS, book_data(design, found))


def book_data(design: Design, found: Sequence[Chapter]) -> dict[str, Any]:
    """What the layout gets."""
    info = design.results.project
    return {
        "project": info.title or "Project not named",
        "number": info.number,
        "code": info.code,
        "caution": CAUTION_TEXT,
        "digest": design.results.digest[:12],
        "states": [state.name for state in design.results.states],
        "chapters": [
            {
                "tag": chapter.tag,
                "depth": chapter.depth,
                "heading": chapter.heading.removeprefix(f"{chapter.tag}: "),
                "entries": [_entry(each) for each in chapter.entries],
                "circuits": [list(row) for row in chapter.circuits],
                "circuit_entries": [_entry(each) for each in chapter.circuit_entries],
                "forms": [_form(each) for each in chapter.forms],
                "repeated": [[first, ", ".join(here)] for first, here in chapter.repeated],
            }
            for chapter in found
        ],
    }


def _entry(it: Calculation) -> dict[str, Any]:
    lines = []
    if it.given:
        lines += ["given", *(f"  {line}" for line in given_lines(it, PAGE_WIDTH - 2))]
    if it.lines:
        lines += ["calculation", *(f"  {line}" for line in worked_lines(it, PAGE_WIDTH - 2))]
    notes = [f"Rounding: {it.rounding}."] if it.rounding and it.rounding != "none" else []
    notes += [f"Not {option}: {reason.rstrip('.')}." for option, reason in it.rejected]
    if it.clause:
        notes.append(f"Clause: {it.clause}.")
    state = f"; state: {it.state}" if it.state else ""
    return {
        "subject": it.subject,
        "title": it.title,
        "value": it.value,
        "origin": f"{it.origin}{state}",
        "body": "\n".join(line.rstrip() for line in lines),
        "notes": " ".join(notes),
    }


def _form(form: Form) -> dict[str, Any]:
    symbols = "; ".join(f"{symbol}: {name}{f', {unit}' if unit else ''}" for symbol, name, unit in form.symbols)
    return {
        "title": form.title,
        "symbols": f"{symbols}.",
        "formulas": "\n".join(f"  {line}" for line in form.formulas),
        "heads": [list(head) for head in form.heads],
        "rows": [list(row) for row in form.rows],
        "clause": form.clause,
    }
