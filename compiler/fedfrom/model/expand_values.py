"""What a name in square brackets stands for: a given value as written, or the row of a CSV file.

A value keeps the words that it was written in, for what it is, is decided where it is used: `2A` after `LP-` is part of
a tag, in arithmetic two amperes, and the `012` of a room list stays `012` in a tag.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import TypeAlias

from fedfrom.findings import Finding, Label, Severity
from fedfrom.findings.nearest import listed, nearest
from fedfrom.model.arithmetic import (
    CONDUCTOR_UNITS,
    evaluate,
    is_exact_decimal,
    names_in,
    quantity_words,
    read_quantity,
)
from fedfrom.model.csv_table import CsvRow, CsvTable, like_heading
from fedfrom.model.expand_report import GIVEN_HERE
from fedfrom.quantity import UNITS, Dimension, Quantity, find_system
from fedfrom.source import Span
from fedfrom.syntax.tree import Expr, NameExpr, Text, Word

WORD = re.compile(r"(?:-(?=\d))?\w+(?:[-./]\w+)*%?|%", re.ASCII)


@dataclass(frozen=True, slots=True)
class Given:
    """A value: its parts as written (no splices left), and the exact quantity where it was computed."""

    parts: tuple[Word | Text, ...]
    span: Span
    computed: Quantity | None = None

    @property
    def text(self) -> str:
        """The value as a reader sees it, and as it stands in a text."""
        return " ".join(part.text for part in self.parts)

    def quantity(self) -> Quantity | None:
        """The value as a quantity; None where it is a name or a text."""
        if self.computed is not None:
            return self.computed
        return None if any(isinstance(part, Text) for part in self.parts) else read_quantity(self.text)


@dataclass(frozen=True, slots=True)
class Row:
    """The row that a `for … in "file.csv"` stands at."""

    table: CsvTable
    row: CsvRow

    def cell(self, column: str, span: Span) -> Given | Finding:
        """The value in a column, or a finding: no such heading (with those there are), or an empty cell."""
        index = self.table.plain_columns.get(column)
        if index is None:
            names = [name for name in self.table.plain_columns if re.fullmatch(r"[A-Za-z_]\w*", name)]
            close = nearest(column, names) or like_heading(column, names)
            message = f"`{self.table.name}` has no column `{column}`"
            notes = (f"its headings: {', '.join(heading.text for heading in self.table.headings)}",)
            advice = f"{listed(close)} is close" if close else "a heading with blanks is written with `_`: `Item_No`"
            return Finding("csv-heading", Severity.ERROR, self.table.name, message, span, "", (), notes, advice)
        cell = self.row.cells[index]
        if not cell.has_value:
            message = f"line {self.row.line} of `{self.table.name}` has nothing under `{column}`"
            advice = "fill the cell in"
            return Finding("csv-cell-empty", Severity.ERROR, self.table.name, message, cell.span, help=advice)
        return Given(cell_parts(cell.text, cell.span), cell.span)


Binding: TypeAlias = Given | Row


def cell_parts(text: str, span: Span) -> tuple[Word | Text, ...]:
    """A cell as parts of a line: a word, a number with its unit, a voltage system or size; anything else is a text."""
    words = text.split()
    if all(WORD.fullmatch(word) for word in words):
        is_size = len(words) == 2 and words[1] in CONDUCTOR_UNITS
        if len(words) == 1 or read_quantity(text) is not None or find_system(text) is not None or is_size:
            return tuple(Word((word,), span) for word in words)
    return (Text((text,), span),)


def plain_number(part: Word | Text) -> Word | Text:
    """`1_180` as `1180`, so that a number reads well in a text; anything else as it is."""
    if isinstance(part, Word) and re.fullmatch(r"\d+(_\d+)+(\.\d+)?", part.text):
        return Word((part.text.replace("_", ""),), part.span)
    return part


def given_quantity(quantity: Quantity, span: Span) -> Given:
    """A computed quantity as a value."""
    return Given(tuple(Word((word,), span) for word in quantity_words(quantity)), span, quantity)


@dataclass(frozen=True)
class Scope:
    """The names that may stand in brackets at a place of the text, and what they stand for there."""

    bindings: Mapping[str, Binding] = field(default_factory=dict)
    units_instead: Mapping[str, str] = field(default_factory=dict)

    def with_binding(self, name: str, value: Binding) -> Scope:
        return replace(self, bindings={**self.bindings, name: value})

    def only(self, bindings: Mapping[str, Binding]) -> Scope:
        """The scope of a typical's body: it sees its own parameters and nothing of the place of the `use`."""
        return replace(self, bindings=bindings)

    def value(self, expr: Expr) -> Given | Finding:
        """The value of what stands in a pair of brackets; a finding without a subject where it has none."""
        if isinstance(expr, NameExpr):
            return self._named(expr)
        result = evaluate(expr, self._amount, "", self.units_instead)
        if not isinstance(result, Finding):
            return given_quantity(result, expr.span)
        return replace(result, related=(*result.related, *self._origins(expr))) if result.related else result

    def _origins(self, expr: Expr) -> tuple[Label, ...]:
        """Where the values of the names in an expression were given, for a finding about their dimensions."""
        values = {name.name: self._named(name) for name in names_in(expr)}
        return tuple(Label(v.span, f"`{name}` is {v.text}") for name, v in values.items() if isinstance(v, Given))

    def _named(self, name: NameExpr) -> Given | Finding:
        value = self.bindings.get(name.name)
        if value is None:
            return unknown_name(name, self.bindings, "")
        if isinstance(value, Row):
            if not name.column:
                columns = [column for column in value.table.plain_columns if column.isidentifier()]
                message = f"`{name.name}` is a whole row of `{value.table.name}`"
                advice = f"name a column of it: {listed(f'[{name.name}.{column}]' for column in columns[:4])}"
                return Finding("csv-column", Severity.ERROR, "", message, name.span, help=advice)
            return value.cell(name.column, name.span)
        if name.column:
            message = f"`{name.name}` is one value and has no columns"
            return Finding("csv-column", Severity.ERROR, "", message, name.span, help=f"write `[{name.name}]`")
        return value

    def _amount(self, name: NameExpr) -> Quantity | Finding:
        value = self._named(name)
        if isinstance(value, Finding):
            return value
        quantity = value.quantity()
        if quantity is not None:
            return quantity
        shown = f"{name.name}.{name.column}" if name.column else name.name
        message = f"`{shown}` is `{value.text}`, not a number or a quantity"
        advice = _number_advice(value.text)
        is_cell = value.span.file != name.span.file
        span = value.span if is_cell else name.span
        return Finding("not-a-number", Severity.ERROR, "", message, span, "", given_here(value), (), advice)


def _number_advice(text: str) -> str:
    if re.fullmatch(r"\d{1,3}(,\d{3})+(\.\d+)?", text):
        return f"write the number without commas: `{text.replace(',', '')}`"
    if re.fullmatch(r"\d+,\d+", text):
        return f"write a decimal point: `{text.replace(',', '.')}`"
    return ""


def unknown_name(name: NameExpr, known: Iterable[str], subject: str) -> Finding:
    """The finding for a name in brackets that is no parameter or loop variable of the place."""
    names = tuple(known)
    close = nearest(name.name, names)
    if close:
        advice = f"{listed(close)} is close"
    elif names:
        advice = f"here there {'are' if len(names) > 1 else 'is'} {listed(names).replace(' or ', ' and ')}"
    else:
        advice = "brackets hold parameters of a `typical` and variables of a `for`; there are none here"
    message = f"`{name.name}` is no parameter or loop variable of this place"
    return Finding("unknown-parameter", Severity.ERROR, subject, message, name.span, "not known", help=advice)


def given_here(value: Given) -> tuple[Label, ...]:
    """The label of the place where a value was given; by it `Report` knows that one value is at fault, however used."""
    return (Label(value.span, GIVEN_HERE),)


def is_unit_name(name: str) -> bool:
    return name in UNITS or name in CONDUCTOR_UNITS


def shows_exactly(value: Given) -> bool:
    """Whether the value's words say it exactly: a third has no end as a decimal."""
    quantity = value.computed
    if quantity is None:
        return True
    return is_exact_decimal(quantity.number_in(quantity.unit) if quantity.unit else quantity.value)


def has_unit(value: Given) -> bool:
    """Whether the value is a number with a unit after it."""
    quantity = value.quantity()
    return quantity is not None and quantity.dimension is not Dimension.NUMBER
