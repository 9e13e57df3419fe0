"""The cells of one row of a sender's table: their values by field, and what is wrong with them."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from fedfrom.findings import Finding, Label, Severity
from fedfrom.model.arithmetic import read_quantity
from fedfrom.model.csv_fields import Columns, Field, Source
from fedfrom.model.csv_table import Cell, CsvRow, CsvTable
from fedfrom.model.expand_report import Report
from fedfrom.quantity import UNITS, Quantity
from fedfrom.source import Span
from fedfrom.syntax.tree import Text, Word
from fedfrom.vocabulary import Vocabulary


@dataclass
class TableReading:
    """What the rows of one import share. `seen`: the tags so far and their cells; `covered`: positions taken so far."""

    table: CsvTable
    columns: Columns
    vocabulary: Vocabulary
    report: Report
    seen: dict[str, Cell] = field(default_factory=dict)
    covered: set[str] = field(default_factory=set)


@dataclass
class RowCells:
    """Reads cells of one row; `failed` tells that one of them could not be read, and a finding was given."""

    reading: TableReading
    row: CsvRow
    failed: bool = False

    def cell(self, source: Source) -> Cell:
        """The cell of a column, or a constant as if it were one."""
        if source.column is not None:
            return self.row.cells[source.column]
        text = " ".join(part.text for part in source.constant if isinstance(part, (Word, Text)))
        return Cell(text, source.span)

    def text(self, name: str) -> Cell | None:
        """The cell of a field if it has a value; an empty one of a needed field is an error. None: not in the table."""
        source = self.reading.columns.fields.get(name)
        if source is None:
            return None
        cell = self.cell(source)
        if cell.has_value:
            return cell
        if source.field.needed and not source.field.amount:
            self.empty(source, cell)
        return None

    def span(self, name: str) -> Span:
        return self.cell(self.reading.columns.fields[name]).span

    def quantity(self, source: Source, cell: Cell) -> Quantity | None:
        """The number of a cell with its own unit, else the column's; None and a finding otherwise."""
        text = cell.text
        if source.unit == "hp" and re.fullmatch(r"\d+ \d+/\d+", text):
            text = text.replace(" ", "-")
        quantity = read_quantity(text)
        if quantity is None or not quantity.unit:
            if quantity is not None and not source.unit:
                name = source.field.name
                message = f"the numbers under `{self.heading(source)}` have no unit"
                advice = f'write it after the heading: `{name} "{self.heading(source)}" {_unit_for(source.field)}`'
                self.error("csv-unit", message, source.span, advice)
                return None
            quantity = read_quantity(f"{text} {source.unit}")
        if quantity is None:
            self._not_a_number(source, cell)
            return None
        if quantity.dimension not in source.field.dimensions:
            message = f"{self.where(source)} holds {quantity.dimension.value}, `{cell.text}`"
            self.error("csv-cell", message, cell.span, f"`{source.field.name}` takes {_dimension_words(source.field)}")
            return None
        return quantity

    def whole(self, name: str, least: int) -> int | None:
        cell = self.text(name)
        if cell is None:
            return None
        text = cell.text.removesuffix(".0")
        if text.isdigit() and len(text) < 6 and int(text) >= least:
            return int(text)
        source = self.reading.columns.fields[name]
        message = f"{self.where(source)} holds `{cell.text}`, not a whole number"
        self.error("csv-cell", message, cell.span, f"`{name}` is a whole number from {least}")
        return None

    def subject(self) -> str:
        for name in ("tag", "name"):
            source = self.reading.columns.fields.get(name)
            if source is not None and self.cell(source).has_value:
                return self.cell(source).text
        return f"{self.reading.table.name}, line {self.row.line}"

    def heading(self, source: Source) -> str:
        return source.field.name if source.column is None else self.reading.table.headings[source.column].text

    def where(self, source: Source) -> str:
        if source.column is None:
            return f"`{source.field.name}`"
        return f"line {self.row.line} of `{self.reading.table.name}`, column `{self.heading(source)}`,"

    def empty(self, source: Source, cell: Cell) -> None:
        shown = f" (`{cell.text}`)" if cell.text else ""
        message = f"{self.where(source)} holds no value{shown}".replace(",  ", ", ")
        advice = f"fill it in, or leave `{source.field.name}` out and write what holds at the gear"
        self.error("csv-cell-empty", message, cell.span, advice)

    def _not_a_number(self, source: Source, cell: Cell) -> None:
        advice = ""
        if re.fullmatch(r"\d{1,3}(,\d{3})+(\.\d+)?", cell.text):
            advice = f"write the number without commas: {cell.text.replace(',', '')}"
        elif re.fullmatch(r"\d+,\d+", cell.text):
            advice = f"write a decimal point: {cell.text.replace(',', '.')}"
        elif source.field.name == "volts" and re.fullmatch(r"\d+Y?/\d+", cell.text):
            advice = "write the volts that the load is for: those between lines, or those to neutral"
        message = f"{self.where(source)} holds `{cell.text}`, not a number"
        self.error("csv-cell", message, cell.span, advice)

    def error(self, rule: str, message: str, span: Span, advice: str, related: tuple[Label, ...] = ()) -> None:
        self.failed = True
        finding = Finding(rule, Severity.ERROR, self.subject(), message, span, "", related, (), advice)
        self.reading.report.add(finding)


def _unit_for(taken: Field) -> str:
    return next(unit.name for unit in UNITS.values() if unit.dimension is taken.dimensions[0] and unit.factor >= 1)


def _dimension_words(taken: Field) -> str:
    words = [dimension.value for dimension in taken.dimensions]
    return " or ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else words[0]
