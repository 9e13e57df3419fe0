"""One row of a sender's table -> a plain load line. What comes from a cell has its span in the table."""

from __future__ import annotations

import re

from fedfrom.findings import Label
from fedfrom.findings.nearest import listed, nearest
from fedfrom.model.arithmetic import quantity_words
from fedfrom.model.csv_cells import RowCells, TableReading
from fedfrom.model.csv_fields import FIELDS, Source
from fedfrom.model.csv_table import CsvRow
from fedfrom.model.expand_lines import STATUS_WORDS
from fedfrom.model.expand_values import WORD
from fedfrom.source import Span
from fedfrom.syntax.tree import Line, Part, Run, Site, Text, Word

_TAG = re.compile(r"[A-Za-z0-9_]+(?:-[A-Za-z0-9_]+)*")
_PHASES = re.compile(r"([13])\s*-?\s*(?:ph|phase|ø|φ)?\.?", re.IGNORECASE)
_YES = frozenset({"yes", "y", "x", "true", "1"})
_PLAIN_OPTIONS = ("breaker", "mocp", "length")
_NO = frozenset({"no", "n", "false", "0"})


def load_line(reading: TableReading, row: CsvRow, trail: tuple[Site, ...]) -> Line | None:
    """The row's load line; None where the row brings none. A cell that cannot be read makes the line unreadable.

    A row brings none when its count is 0, or when a schedule has it for a further pole of a device above.
    """
    return _Row(reading, row).line(trail)


class _Row(RowCells):
    """Makes the line, part by part."""

    def line(self, trail: tuple[Site, ...]) -> Line | None:
        if self._is_further_pole():
            return None
        reserve = self._reserve()
        if reserve:
            return self._reserve_line(reserve, trail)
        head: list[Part] = []
        head += self._status()
        kind, tag, title = self._kind(), self._tag(), self._title()
        if tag is None and title is None and not self.failed:
            message = f"line {self.row.line} of `{self.reading.table.name}` has neither a tag nor a name"
            self.error("csv-cell-empty", message, self.row.span, "fill one of them in")
        head += [*kind, *([tag] if tag else []), *([title] if title else []), *self._amount()]
        count = self._count()
        if count == 0:
            return None
        if count is not None and count > 1:
            span = self.span("count")
            head += [Word(("x",), span), Word((str(count),), span)]
        poles = self._poles()
        positions = self._positions(poles)
        runs = [head or [Text(("…",), self.row.span)], *self._supply(poles, bool(positions)), *self._options()]
        made = [Run(tuple(parts), self._run_span(parts)) for parts in runs if parts]
        made += self.reading.columns.options
        return Line(positions, tuple(made), None, self.row.span, trail, self.failed)

    def _options(self) -> list[list[Part]]:
        """What stands after commas, in the order of the field table, then of the import's own lines."""
        fields = self.reading.columns.fields
        own = [source for name, source in fields.items() if name not in FIELDS]
        return [self._option(source) for source in (*(fields[n] for n in _PLAIN_OPTIONS if n in fields), *own)]

    # --- the parts of the line -----------------------------------------------------------------------------------

    def _reserve(self) -> str:
        """ "spare" or "space" where the row is one, as existing schedules write it in the place of a load's name."""
        for name in ("kind", "name"):
            source = self.reading.columns.fields.get(name)
            word = "" if source is None else self.cell(source).text.casefold()
            if word in ("spare", "space"):
                return word
        return ""

    def _reserve_line(self, word: str, trail: tuple[Site, ...]) -> Line | None:
        poles = self._poles() or 1
        positions = self._positions(poles)
        source = self.reading.columns.fields.get("kind" if self._is(word, "kind") else "name")
        assert source is not None
        span = self.cell(source).span
        parts: list[Part] = [*self._status(), Word((word,), span)]
        if word == "spare":
            breaker = self.reading.columns.fields.get("breaker")
            rating = None if breaker is None else self.cell(breaker)
            quantity = self.quantity(breaker, rating) if breaker is not None and rating and rating.has_value else None
            if quantity is None:
                if not self.failed:
                    message = "a spare has no rating"
                    advice = 'name its column: `breaker "Trip"`'
                    self.error("csv-cell-empty", message, rating.span if rating else self.row.span, advice)
                return Line(positions, (Run(tuple(parts), span),), None, self.row.span, trail, True)
            parts += self._words(quantity_words(quantity), rating.span if rating else span)
        parts.append(Word((f"{poles}-pole",), self.span("poles") if "poles" in self.reading.columns.fields else span))
        return Line(positions, (Run(tuple(parts), self._run_span(parts)),), None, self.row.span, trail, self.failed)

    def _is_further_pole(self) -> bool:
        """A row with nothing but a position that a device of several poles above has taken."""
        sources = self.reading.columns.fields
        filled = [name for name, s in sources.items() if s.column is not None and self.cell(s).has_value]
        return (
            set(filled) <= {"position", "poles"}
            and "position" in filled
            and (self.cell(sources["position"]).text in self.reading.covered)
        )

    def _is(self, word: str, name: str) -> bool:
        source = self.reading.columns.fields.get(name)
        return source is not None and self.cell(source).text.casefold() == word

    def _status(self) -> list[Part]:
        cell = self.text("status")
        if cell is None:
            return []
        word = cell.text.casefold()
        if word in STATUS_WORDS:
            return [Word((word,), cell.span)]
        close = nearest(word, STATUS_WORDS)
        message = f"`{cell.text}` is not a status"
        advice = f"{listed(close)} is close" if close else f"write {listed(STATUS_WORDS)}"
        self.error("csv-cell", message, cell.span, advice)
        return []

    def _kind(self) -> list[Part]:
        cell = self.text("kind")
        if cell is None:
            return []
        kinds = list(self.reading.vocabulary.lists["load-kind"].words)
        kind = next((name for name in kinds if name.casefold() == cell.text.casefold()), None)
        if kind is not None:
            return [Word((word,), cell.span) for word in kind.split()]
        close = nearest(cell.text.casefold(), kinds)
        advice = f"{listed(close)} is close" if close else f"kinds are {', '.join(kinds)}"
        self.error("csv-cell", f"`{cell.text}` is not a kind of load", cell.span, advice)
        return []

    def _tag(self) -> Word | None:
        cell = self.text("tag")
        if cell is None:
            return None
        if _TAG.fullmatch(cell.text) is None:
            message = f"`{cell.text}` is not a tag"
            advice = "a tag has letters, digits, `-` and `_`, without blanks and dots"
            self.error("csv-cell", message, cell.span, advice)
            return None
        before = self.reading.seen.setdefault(cell.text, cell)
        if before is not cell and self.reading.columns.fields["tag"].column is not None:
            message = f"the tag `{cell.text}` stands twice in `{self.reading.table.name}`"
            related = (Label(before.span, "the first"),)
            advice = 'give each row a tag of its own; for equal ones write one row and a column `count "Qty"`'
            self.error("csv-tag-twice", message, cell.span, advice, related)
            return None
        return Word((cell.text,), cell.span)

    def _title(self) -> Text | None:
        cell = self.text("name")
        return None if cell is None else Text((cell.text,), cell.span)

    def _amount(self) -> list[Part]:
        """The load, by the one field of those that say it which has a value in this row."""
        sources = [source for source in self.reading.columns.fields.values() if source.field.amount]
        given = [(source, self.cell(source)) for source in sources]
        filled = [(source, cell) for source, cell in given if cell.has_value]
        if len(filled) > 1:
            names = listed(source.field.name for source, _ in filled).replace(" or ", " and ")
            message = f"line {self.row.line} of `{self.reading.table.name}` says the load more than once: {names}"
            related = (Label(filled[0][1].span, "the first"),)
            self.error("csv-cell", message, filled[1][1].span, "name the column that holds", related)
            return []
        if not filled:
            if given:
                self.empty(*given[0])
            return []
        source, cell = filled[0]
        if source.field.name == "outlets":
            count = self.whole("outlets", 1)
            return [] if count is None else self._words((str(count), "outlets"), cell.span)
        quantity = self.quantity(source, cell)
        if quantity is None:
            return []
        words = self._words(quantity_words(quantity), cell.span)
        return [Word(("mca",), cell.span), *words] if source.field.name == "mca" else words

    def _count(self) -> int | None:
        count = self.whole("count", 0)
        if count == 0:
            message = f"line {self.row.line} of `{self.reading.table.name}` has a count of 0 and is left out"
            span = self.span("count")
            advice = "delete the row if it is not needed"
            self.reading.report.note("csv-count-zero", self.subject(), message, span, advice)
        return count

    def _poles(self) -> int | None:
        poles = self.whole("poles", 1)
        if poles is not None and poles > 3:
            message = f"{self.where(self.reading.columns.fields['poles'])} holds `{poles}`: a circuit has 1 to 3 poles"
            self.error("csv-cell", message, self.span("poles"), "")
            return None
        return poles

    def _positions(self, poles: int | None) -> tuple[Word, ...]:
        """`1,3,5` as it stands; of a single position and its poles the others follow on the same side."""
        cell = self.text("position")
        if cell is None:
            return ()
        numbers = re.split(r"\s*[,/;-]\s*|\s+", cell.text)
        if not all(re.fullmatch(r"[1-9]\d{0,4}", number) for number in numbers):
            self.error("csv-cell", f"`{cell.text}` is not a position", cell.span, "write `1`, or `1,3,5` in quotes")
            return ()
        if len(numbers) == 1 and poles is not None:
            numbers = [str(int(numbers[0]) + 2 * pole) for pole in range(poles)]
        if len(numbers) > 1 and "-" in cell.text and len(numbers) != poles:
            message = f"`{cell.text}` could be a range or a list of positions"
            self.error("csv-cell", message, cell.span, "write the positions with commas, in quotes: `1,3,5`")
            return ()
        if poles is not None and len(numbers) != poles:
            message = f"{len(numbers)} positions and {poles} poles do not go together"
            self.error("csv-cell", message, cell.span, "write one position for each pole, or the first alone")
            return ()
        self.reading.covered.update(numbers)
        return tuple(Word((number,), cell.span) for number in numbers)

    def _supply(self, poles: int | None, has_positions: bool) -> list[list[Part]]:
        """Volts and phases; from poles, where positions do not say them already."""
        parts: list[Part] = []
        fields = self.reading.columns.fields
        volts = self.text("volts")
        if volts is not None:
            quantity = self.quantity(fields["volts"], volts)
            parts += [] if quantity is None else self._words(quantity_words(quantity), volts.span)
        phases = self._phases()
        if phases is not None:
            if poles is not None and (poles == 3) != (phases == 3):
                message = f"{poles} pole{'s' if poles > 1 else ''} and {phases}-phase do not go together"
                related = (Label(self.span("poles"), "the poles"),)
                self.error("csv-cell", message, self.span("phases"), "correct one of the two", related)
            parts.append(Word((f"{phases}-phase",), self.span("phases")))
        elif poles is not None and poles > 1 and not has_positions:
            parts.append(Word(("3-phase" if poles == 3 else "1-phase",), self.span("poles")))
        return [parts] if parts else []

    def _phases(self) -> int | None:
        cell = self.text("phases")
        if cell is None:
            return None
        found = _PHASES.fullmatch(cell.text.removesuffix(".0"))
        if found is None:
            message = f"{self.where(self.reading.columns.fields['phases'])} holds `{cell.text}`"
            self.error("csv-cell", message, cell.span, "phases are 1 or 3")
            return None
        return int(found[1])

    def _option(self, source: Source) -> list[Part]:
        """`breaker 50 A`, `40 ft`, and any option of loads whose value stands in a column."""
        cell = self.cell(source)
        if not cell.has_value:
            return []
        name = source.field.name
        named: list[Part] = [Word((word,), cell.span) for word in name.split()]
        if source.field.dimensions:
            quantity = self.quantity(source, cell)
            words = [] if quantity is None else self._words(quantity_words(quantity), cell.span)
            return words if name == "length" or not words else [*named, *words]
        assert source.option is not None
        if any(not pattern.elements for pattern in source.option.patterns):
            word = cell.text.casefold()
            if word in _YES or word in _NO:
                return named if word in _YES else []
        if any(element.type == "text" for pattern in source.option.patterns for element in pattern.elements):
            return [*named, Text((cell.text,), cell.span)]
        if all(WORD.fullmatch(word) for word in cell.text.split()):
            return [*named, *self._words(tuple(cell.text.split()), cell.span)]
        self.error("csv-cell", f"`{cell.text}` cannot follow `{name}`", cell.span, source.option.example)
        return []

    @staticmethod
    def _words(words: tuple[str, ...], span: Span) -> list[Part]:
        return [Word((word,), span) for word in words]

    def _run_span(self, parts: list[Part]) -> Span:
        """The span of a run: its cells' where they are of the table, else its own."""
        inside = [part.span for part in parts if part.span.file == self.row.span.file] or [part.span for part in parts]
        return Span(inside[0].file, min(s.start for s in inside), max(s.end for s in inside))
