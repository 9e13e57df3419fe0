"""What the columns of a sender's table hold: the lines in the braces of `loads from "file.csv"`.

A quoted word is the sender's heading, a bare word a constant: `tag "Item No"`, `kind kitchen`, `load "Power" kW`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from fedfrom.findings.nearest import listed, nearest
from fedfrom.model.csv_table import CsvTable, heading_finding
from fedfrom.model.expand_lines import run_text, words_of
from fedfrom.model.expand_report import Report
from fedfrom.model.lower_match import Match, match_patterns
from fedfrom.quantity import UNITS, Dimension
from fedfrom.source import Span
from fedfrom.syntax.tree import Part, Run, Text, Word
from fedfrom.vocabulary import Entry, Vocabulary

# Units as senders write them in headings, in any mixture of capitals: common practice, no source.
HEADING_UNITS: Mapping[str, str] = {
    "a": "A", "amp": "A", "amps": "A", "amperes": "A", "fla": "A", "flc": "A", "rla": "A", "mca": "A", "mocp": "A",
    "ka": "kA", "kaic": "kA", "v": "V", "volt": "V", "volts": "V", "voltage": "V", "kva": "kVA", "va": "VA",
    "kw": "kW", "w": "W", "watts": "W", "hp": "hp", "ft": "ft", "feet": "ft", "m": "m", "meters": "m", "metres": "m",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Field:
    """A fact of a row that the table may hold. `unit` is that of bare numbers where the heading says none.

    `dimensions` those of a quantity (none: it is no quantity); `amount` marks the ways to say how large a load is, of
    which a row has one; `needed`: an empty cell is an error, for nothing may be chosen in its place.
    """

    name: str
    dimensions: tuple[Dimension, ...] = ()
    unit: str = ""
    amount: bool = False
    needed: bool = True


_POWER = (Dimension.REAL, Dimension.APPARENT, Dimension.CURRENT, Dimension.SHAFT)
_AMPERES = (Dimension.CURRENT,)
FIELDS: Mapping[str, Field] = {
    field.name: field
    for field in (
        Field("tag"),
        Field("name"),
        Field("kind"),
        Field("volts", (Dimension.VOLTAGE,), "V"),
        Field("phases"),
        Field("poles", needed=False),
        Field("position", needed=False),
        Field("status", needed=False),
        Field("count"),
        Field("load", _POWER, amount=True),
        Field("kw", (Dimension.REAL,), "kW", amount=True),
        Field("kva", (Dimension.APPARENT,), "kVA", amount=True),
        Field("amps", _AMPERES, "A", amount=True),
        Field("hp", (Dimension.SHAFT,), "hp", amount=True),
        Field("mca", _AMPERES, "A", amount=True),
        Field("outlets", amount=True),
        Field("mocp", _AMPERES, "A", needed=False),
        Field("breaker", _AMPERES, "A", needed=False),
        Field("length", (Dimension.LENGTH,), needed=False),
    )
}


@dataclass(frozen=True, slots=True)
class Source:
    """Where a field comes from: a column (index) or a constant (its parts). `option` for other options of loads."""

    field: Field
    span: Span
    column: int | None = None
    constant: tuple[Part, ...] = ()
    unit: str = ""
    option: Entry | None = None


@dataclass(frozen=True, slots=True)
class Columns:
    """The fields of a table by name, and further options (`shunt trip`, `208 V 3-phase`) that stand on every row."""

    fields: Mapping[str, Source]
    options: tuple[Run, ...]


def read_columns(
    runs: Iterable[Run], table: CsvTable, vocabulary: Vocabulary, subject: str, report: Report
) -> Columns | None:
    """The columns as written; None, and findings, where one of them cannot be read."""
    reader = _Reader(table, vocabulary, subject, report)
    for run in runs:
        reader.take(run)
    return None if reader.failed else Columns(reader.fields, tuple(reader.options))


class _Reader:
    def __init__(self, table: CsvTable, vocabulary: Vocabulary, subject: str, report: Report) -> None:
        self.table = table
        self.vocabulary = vocabulary
        self.subject = subject
        self.report = report
        self.fields: dict[str, Source] = {}
        self.options: list[Run] = []
        self.failed = False

    def take(self, run: Run) -> None:
        words = words_of(run.parts)
        option = self.vocabulary.scope("load").match(words)
        name = words[0] if words and words[0] in FIELDS else option.name if option is not None else ""
        length = 1 if name in FIELDS else len(option.words) if option is not None else 0
        rest = run.parts[length:]
        heading = rest[0] if rest and isinstance(rest[0], Text) else None
        if not name:
            if heading is None and self._is_unnamed_option(run):
                self.options.append(run)
                return
            self._unknown(run, words)
        elif name in self.fields:
            self._error("csv-column", f"`{name}` is said twice", run.span, "leave one out")
        elif heading is not None:
            self._column(run, name, option, heading, rest[1:])
        elif option is not None:
            self.options.append(run)
        elif not rest:
            self._error("csv-column", f"`{name}` names no column", run.span, f'write `{name} "Heading"`')
        else:
            self.fields[name] = Source(FIELDS[name], run.span, None, rest, FIELDS[name].unit)

    def _is_unnamed_option(self, run: Run) -> bool:
        """A fact that is known by its value alone: `208 V 3-phase`, `40 ft`, `shunt trip`."""
        unnamed = self.vocabulary.scope("load").unnamed
        return any(isinstance(match_patterns(e.patterns, run.parts, self.vocabulary), Match) for e in unnamed)

    def _column(self, run: Run, name: str, option: Entry | None, heading: Text, after: tuple[Part, ...]) -> None:
        column = self.table.columns.get(" ".join(heading.text.split()))
        if column is None:
            self.failed = True
            self.report.add(heading_finding(self.table, heading.text, heading.span))
            return
        field = FIELDS.get(name) or Field(name, _dimensions(option), needed=False)
        unit = self._unit(field, heading, after)
        if unit is not None:
            self.fields[name] = Source(field, run.span, column, (), unit, option)

    def _unit(self, field: Field, heading: Text, after: tuple[Part, ...]) -> str | None:
        """The unit of bare numbers in the column: written after the heading, else in it, else the field's own."""
        if after:
            word = after[0].text if isinstance(after[0], Word) else ""
            if len(after) > 1 or word not in UNITS or UNITS[word].dimension not in field.dimensions:
                units = [unit.name for unit in UNITS.values() if unit.dimension in field.dimensions]
                advice = (
                    f"after the heading stands the unit of its numbers: {listed(units)}"
                    if units
                    else (f'write `{field.name} "{heading.text}"` and no more')
                )
                shown = run_text(Run(after, after[0].span))
                message = f"`{shown}` is not a unit of `{field.name}`"
                self._error("csv-unit", message, after[0].span.to(after[-1].span), advice)
                return None
            return word
        if not field.dimensions:
            return ""
        tokens = [HEADING_UNITS.get(token.casefold(), "") for token in re.findall(r"[A-Za-z]+", heading.text)]
        units = [unit for unit in dict.fromkeys(tokens) if unit and UNITS[unit].dimension in field.dimensions]
        if len(units) > 1:
            message = f"the heading `{heading.text}` names {len(units)} units"
            advice = f'write the one that holds: `{field.name} "{heading.text}" {units[0]}`'
            self._error("csv-unit", message, heading.span, advice)
            return None
        return units[0] if units else field.unit

    def _unknown(self, run: Run, words: list[str]) -> None:
        known = [*FIELDS, *self.vocabulary.scope("load").names]
        shown = words[0] if words else run_text(run)
        close = nearest(shown, known)
        advice = f"{listed(close)} is close" if close else f"columns are {', '.join(FIELDS)}, and the options of loads"
        self._error("csv-column", f"`{shown}` is not known as a column", run.span, advice)

    def _error(self, rule: str, message: str, span: Span, advice: str) -> None:
        self.failed = True
        self.report.error(rule, self.subject, message, span, advice)


def _dimensions(option: Entry | None) -> tuple[Dimension, ...]:
    """The dimensions of the quantity that an option begins with; none where it does not."""
    firsts = [pattern.elements[0] for pattern in option.patterns if pattern.elements] if option is not None else []
    return tuple(dict.fromkeys(d for element in firsts if element.type == "quantity" for d in element.dimensions))
