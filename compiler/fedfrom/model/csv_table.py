"""A CSV text as headings and rows of cells, each with its span, so that a finding can mark the cell.

Commas, semicolons or tabs, whichever the heading line has most of; quotes, and separators, line ends and doubled quotes
inside them, as in RFC 4180. Read here and not with the `csv` module because that gives no places; a test compares both.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

from fedfrom.findings import Finding, Label, Severity
from fedfrom.findings.nearest import listed, nearest
from fedfrom.source import SourceFile, Span

SEPARATORS = ",;\t"
_NO_VALUE = frozenset({"", "-", "--", "–", "—", "n/a", "na", "tbd", "?"})


@dataclass(frozen=True, slots=True)
class Cell:
    """The text of a cell without blanks around it (runs of line ends and blanks inside as one blank), and its place."""

    text: str
    span: Span

    @property
    def is_blank(self) -> bool:
        return not self.text

    @property
    def has_value(self) -> bool:
        """False for an empty cell and for what stands for one in schedules: `-`, `N/A`, `TBD` …"""
        return self.text.casefold() not in _NO_VALUE


@dataclass(frozen=True, slots=True)
class CsvRow:
    """One row; `line` is the line of the file (from 1) that it begins on. A short row has blank cells at its end."""

    line: int
    cells: tuple[Cell, ...]
    span: Span


@dataclass(frozen=True)
class CsvTable:
    """Headings and rows. Rows without any text are left out."""

    name: str
    headings: tuple[Cell, ...]
    rows: tuple[CsvRow, ...]

    @cached_property
    def columns(self) -> dict[str, int]:
        """Heading -> column, as the sender wrote it; of doubled headings the first."""
        found: dict[str, int] = {}
        for index, heading in enumerate(self.headings):
            found.setdefault(heading.text, index)
        return found

    @cached_property
    def plain_columns(self) -> dict[str, int]:
        """As `columns`, by the heading as a name for brackets: `Item No` is `Item_No`."""
        found = dict(self.columns)
        for heading, index in self.columns.items():
            found.setdefault(re.sub(r"\W+", "_", heading).strip("_"), index)
        return found


def like_heading(heading: str, known: Iterable[str]) -> tuple[str, ...]:
    """Headings that share a word with one that is not there: `Item` for `Item No`. At most three, in their order."""
    wanted = set(re.findall(r"[^\W_]+", heading.casefold()))
    return tuple(name for name in known if wanted & set(re.findall(r"[^\W_]+", name.casefold())))[:3]


def heading_finding(table: CsvTable, heading: str, span: Span) -> Finding:
    """The finding for a heading that a table does not have: those that it has, and the near ones."""
    names = [cell.text for cell in table.headings]
    close = nearest(heading, names) or like_heading(heading, names)
    advice = f"{listed(close)} is close" if close else "write a heading as the file has it"
    message = f"`{table.name}` has no column `{heading}`"
    notes = (f"its headings: {', '.join(names)}",)
    return Finding("csv-heading", Severity.ERROR, table.name, message, span, "", (), notes, advice)


def read_table(source: SourceFile) -> tuple[CsvTable, tuple[Finding, ...]]:
    """Read a CSV text. Doubled or missing headings, rows that are too long and an open quote are findings."""
    findings: list[Finding] = []
    records = list(_records(source, findings))
    if not records:
        return CsvTable(source.name, (), ()), tuple(findings)  # an empty file has its finding from the reading
    headings, *rows = records
    findings.extend(_heading_findings(source.name, headings))
    width = len(headings.cells)
    kept = []
    for row in rows:
        extra = next((cell for cell in row.cells[width:] if not cell.is_blank), None)
        if extra is not None:
            message = f"line {row.line} of `{source.name}` has more cells than there are headings"
            advice = "put a cell that holds the separator in quotes"
            findings.append(_finding("csv-row", source.name, message, extra.span, advice))
        end = Span(row.span.file, row.span.end, row.span.end)
        cells = (*row.cells[:width], *(Cell("", end) for _ in range(width - len(row.cells))))
        if any(not cell.is_blank for cell in row.cells):
            kept.append(CsvRow(row.line, cells, row.span))
    return CsvTable(source.name, headings.cells, tuple(kept)), tuple(findings)


def split_cells(text: str, separator: str) -> Iterator[tuple[list[tuple[str, int, int]], bool]]:
    """Records of (value, start, end) cells, ends without the line end; and whether a quote in it is left open.

    A quote counts as left open too when text follows its closing mark: then it may have swallowed lines.
    """
    at, size = 0, len(text)
    while at < size:
        record: list[tuple[str, int, int]] = []
        is_open = False
        while True:
            start, pieces = at, []
            is_quoted = text.startswith('"', at)
            if is_quoted:
                at, quoted, is_unclosed = _quoted(text, at)
                is_open = is_open or is_unclosed
                pieces.append(quoted)
            end = at
            while end < size and text[end] not in (separator, "\n", "\r"):
                end += 1
            pieces.append(text[at:end])
            is_open = is_open or (is_quoted and bool(text[at:end].strip()))
            record.append(("".join(pieces), start, end))
            at = end
            if at < size and text[at] == separator:
                at += 1
                continue
            break
        yield record, is_open
        at += 2 if text.startswith("\r\n", at) else 1


def _quoted(text: str, at: int) -> tuple[int, str, bool]:
    """A quoted piece from its opening quote: where it ends, its text, whether the closing quote is missing."""
    pieces: list[str] = []
    at += 1
    while True:
        quote = text.find('"', at)
        if quote < 0:
            return len(text), "".join([*pieces, text[at:]]), True
        pieces.append(text[at:quote])
        if not text.startswith('""', quote):
            return quote + 1, "".join(pieces), False
        pieces.append('"')
        at = quote + 2


def separator_of(text: str) -> str:
    """The separator that the heading line has most of outside quotes; the comma where it has none."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    bare = re.sub(r'"[^"]*"', "", first)
    return max(SEPARATORS, key=lambda separator: (bare.count(separator), -SEPARATORS.index(separator)))


def _records(source: SourceFile, findings: list[Finding]) -> Iterator[CsvRow]:
    seen_heading = False
    for cells, is_open in split_cells(source.text, separator_of(source.text)):
        made = tuple(_cell(source, start, end, value) for value, start, end in cells)
        span = Span(source.name, cells[0][1], cells[-1][2])
        if is_open:
            message = f"a quote in `{source.name}` is not closed at the end of its cell"
            advice = 'close it with `"`; a quotation mark inside is doubled: `""`'
            findings.append(_finding("csv-quote", source.name, message, span, advice))
        if not seen_heading and all(cell.is_blank for cell in made):
            continue  # blank lines above the headings
        seen_heading = True
        yield CsvRow(source.place(span.start).line, made, span)


def _cell(source: SourceFile, start: int, end: int, value: str) -> Cell:
    raw = source.text[start:end]
    inner = start + len(raw) - len(raw.lstrip())
    return Cell(" ".join(value.split()), Span(source.name, inner, max(inner, start + len(raw.rstrip()))))


def _heading_findings(name: str, headings: CsvRow) -> Iterator[Finding]:
    first: dict[str, Cell] = {}
    for heading in headings.cells:
        if heading.is_blank:
            continue
        before = first.setdefault(heading.text, heading)
        if before is not heading:
            message = f"the heading `{heading.text}` of `{name}` stands twice"
            yield Finding(
                "csv-heading",
                Severity.ERROR,
                name,
                message,
                heading.span,
                related=(Label(before.span, "the first"),),
                help="give the two columns different headings",
            )


def _finding(rule: str, subject: str, message: str, span: Span, advice: str) -> Finding:
    return Finding(rule, Severity.ERROR, subject, message, span, help=advice)
