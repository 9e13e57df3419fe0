"""What a line is, as far as expansion has to know: item, load or property, its name, tag and title."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from fedfrom.model.arithmetic import read_quantity
from fedfrom.model.lower_match import Match, match_patterns
from fedfrom.quantity import UNITS, Dimension
from fedfrom.source import Span
from fedfrom.syntax.tree import Line, Part, Run, Statement, Text, Word
from fedfrom.vocabulary import Entry, Vocabulary

STATUS_WORDS = ("new", "existing", "relocated", "future", "demolish")
AMOUNTS = frozenset({Dimension.APPARENT, Dimension.REAL, Dimension.CURRENT, Dimension.SHAFT})


@dataclass(frozen=True, slots=True)
class Named:
    """A line's description. `kind` "item", "load", "property" … or "" where the vocabulary does not know its name.

    `name` the name of the entry ("panelboard", "kitchen", "main"), else the line's first word. `rest` is the index of
    the first part of the first run that follows kind, tag and title.
    """

    kind: str
    name: str
    entry: Entry | None = None
    tag: str = ""
    tag_span: Span | None = None
    title: str = ""
    rest: int = 0

    @property
    def is_load(self) -> bool:
        return self.kind == "load"

    @property
    def is_item(self) -> bool:
        return self.kind == "item"

    @property
    def subject(self) -> str:
        """The line in the trade's words, for findings: its tag, else its kind and title."""
        if self.tag:
            return self.tag
        return f'{self.name} "{self.title}"' if self.title else self.name


def words_of(parts: Iterable[Part]) -> list[str]:
    """The words that parts begin with, up to the first text or list."""
    words = []
    for part in parts:
        if not isinstance(part, Word):
            break
        words.append(part.text)
    return words


def run_text(run: Run) -> str:
    """A run as one would write it; two runs are equal when their texts are."""
    return " ".join(_part_text(part) for part in run.parts)


def _part_text(part: Part) -> str:
    if isinstance(part, Word):
        return part.text
    return f'"{part.text}"' if isinstance(part, Text) else f"({', '.join(run_text(run) for run in part.values)})"


def head_text(line: Line) -> str:
    """All of a line but its block, as one would write it."""
    positions = ",".join(word.text for word in line.positions)
    runs = ", ".join(run_text(run) for run in line.runs)
    return f"{positions} {runs}".strip()


class Describer:
    """Describes lines by a vocabulary."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary

    def describe(self, line: Line, scope_kind: str) -> Named:
        """What a line is in a block of this scope ("top", "panelboard", "load" …)."""
        parts = line.runs[0].parts if line.runs else ()
        start = _start_of_kind(parts)
        words = words_of(parts[start:])
        if not words:
            return Named("", "")
        entry = self._entry(words, scope_kind)
        if entry is None:
            return Named("", words[0], rest=start + 1)
        after = start + len(entry.words)
        if entry.kind not in ("item", "load", "statement"):
            return Named(entry.kind, entry.name, entry, rest=after)
        return self._tagged(entry, parts, after)

    def inner_scope(self, named: Named) -> str:
        """The scope of the lines in a described line's block."""
        if named.entry is None:
            return ""
        return named.name if named.is_item else named.entry.block

    def option_key(self, run: Run, scope_kind: str) -> str:
        """What an option sets, so that a second one of the same key takes its place ("device", "length", "volts" …).

        Options that may stand several times (`shunt trip`, `lock-on`) have their own words as key.
        """
        parts = run.parts[_start_of_status(run.parts) :]
        words = words_of(parts)
        scope = self.vocabulary.scope(scope_kind)
        entry = scope.match(words)
        if entry is None:
            bare = _without_times(parts)
            matches = (e for e in scope.unnamed if isinstance(match_patterns(e.patterns, bare, self.vocabulary), Match))
            entry = next(matches, None)
        if entry is not None:
            return "device" if entry.kind == "device" else run_text(run) if entry.repeat else entry.name
        quantity = read_quantity(" ".join(words[:2])) or read_quantity(words[0]) if words else None
        if quantity is not None and quantity.dimension in AMOUNTS:
            return "load"
        if quantity is not None and quantity.dimension is Dimension.VOLTAGE:
            return "volts"
        return run_text(run)

    def _entry(self, words: list[str], scope_kind: str) -> Entry | None:
        entry = self.vocabulary.scope(scope_kind).match(words)
        if entry is None and scope_kind != "top":
            outer = self.vocabulary.scope("top").match(words)
            return outer if outer is not None and outer.kind == "item" else None
        return entry

    def _tagged(self, entry: Entry, parts: tuple[Part, ...], at: int) -> Named:
        tag, tag_span, title = "", None, ""
        part = parts[at] if at < len(parts) else None
        after = parts[at + 1] if at + 1 < len(parts) else None
        takes_tag = any(e.type == "tag" and e.name == "tag" for p in entry.patterns for e in p.elements[:1])
        if isinstance(part, Word) and takes_tag and (entry.kind != "load" or self._is_load_tag(entry, part, after)):
            tag, tag_span, at = part.text, part.span, at + 1
        if at < len(parts) and isinstance(parts[at], Text):
            title, at = parts[at].text, at + 1  # type: ignore[union-attr]
        return Named(entry.kind, entry.name, entry, tag, tag_span, title, at)

    def _is_load_tag(self, entry: Entry, word: Word, after: Part | None) -> bool:
        """A word before a title is a tag; else what is no quantity and no word of the kind's patterns."""
        if isinstance(after, Text):
            return True
        unit = f" {after.text}" if isinstance(after, Word) and after.text in UNITS else ""
        if read_quantity(word.text + unit) is not None or word.text.replace("/", "").replace("-", "").isdigit():
            return False
        return word.text not in self._words_of_patterns(entry)

    def _words_of_patterns(self, entry: Entry) -> frozenset[str]:
        elements = [element for pattern in entry.patterns for element in pattern.elements]
        lists = [self.vocabulary.lists[element.list].words for element in elements if element.type == "list"]
        listed = {word.split()[0] for words in lists for word in words}
        return frozenset({element.literal for element in elements if element.type == "word"} | listed | {"x"})


def _start_of_status(parts: tuple[Part, ...]) -> int:
    first = parts[0] if parts else None
    return 1 if isinstance(first, Word) and first.text in STATUS_WORDS and len(parts) > 1 else 0


def _start_of_kind(parts: tuple[Part, ...]) -> int:
    """Where the kind of a line begins: after a status, a position behind it, and the place along a busway."""
    at = _start_of_status(parts)
    words = [part.text if isinstance(part, Word) else "" for part in parts]
    if at < len(words) - 1 and words[at].isdigit() and words[at + 1] not in UNITS:
        at += 1
    if words[at : at + 1] == ["at"] and len(words) > at + 2:
        at += 3 if read_quantity(" ".join(words[at + 1 : at + 3])) is not None else 2
    return at


def _without_times(parts: tuple[Part, ...]) -> tuple[Part, ...]:
    """Parts without `x 12` at the end."""
    words = [part.text if isinstance(part, Word) else "" for part in parts[-2:]]
    return parts[:-2] if len(words) == 2 and words[0] == "x" and words[1].isdigit() else parts


def first_word(line: Line) -> str:
    """The first word of a line, "" where it begins with a text or a list."""
    words = words_of(line.runs[0].parts[:1]) if line.runs else []
    return words[0] if words else ""


def lines_in(statements: Iterable[Statement]) -> Iterator[Line]:
    """Every line of a row of statements, depth first."""
    for statement in statements:
        if isinstance(statement, Line):
            yield statement
            if statement.block is not None:
                yield from lines_in(statement.block.statements)
