"""A line taken apart into the cells that columns are made of."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

from fedfrom.editing.pieces import Pieces
from fedfrom.editing.reading import LISTS_IN_BRACES, named, sample_parts
from fedfrom.model.lower_heads import without_position
from fedfrom.model.lower_match import Match, match_patterns
from fedfrom.model.lower_modifiers import strip_modifiers
from fedfrom.model.lower_values import split_percent
from fedfrom.syntax.tree import Line, Run, Text
from fedfrom.vocabulary import Entry, Scope, Vocabulary


class Shape(Enum):
    """Which columns a line takes part in."""

    PROPERTY = "property"  # a name and its value
    LOAD = "load"  # positions, kind, tag and name, value
    PLAIN = "plain"  # none


@dataclass(frozen=True, slots=True)
class Cells:
    """The texts of a line's columns. `status` stands before the name and takes no part in its width.

    `place`: positions (a status word before them with them), or `at 60 ft`. `label`: tag and name of a load. `rest`:
    everything after, with its comma where it begins with an option.
    """

    shape: Shape
    status: str = ""
    place: str = ""
    name: str = ""
    label: str = ""
    rest: str = ""

    @property
    def single(self) -> str:
        """The line with single blanks."""
        text = " ".join(filter(None, (self.place, self.status, self.name, self.label)))
        return join(text, self.rest)


def join(text: str, rest: str) -> str:
    """`text` and what follows it; a comma stands without a blank before it."""
    if not rest:
        return text
    return text + rest if rest.startswith(",") or not text else f"{text} {rest}"


def as_listed(line: Line, scope: Scope) -> Line:
    """The line as it is read in a scope: in the braces of a list, `180 ft` has no position 180."""
    if scope.kind in LISTS_IN_BRACES and line.positions:
        return replace(line, positions=(), runs=without_position(line))
    return line


def cells(line: Line, scope: Scope, pieces: Pieces, vocabulary: Vocabulary) -> Cells:
    """The cells of a line in a scope; a line that is not known has one."""
    line = as_listed(line, scope)
    head = line.runs[0]
    found = named(line, scope)
    entry = found.entry
    status, along = _before(line, found.before, pieces)
    place = ",".join(map(pieces.word, line.positions))
    if place and line.runs[0].parts[0].span.start > line.positions[0].span.start:
        place, status = " ".join(filter(None, (place, status))), ""  # a status word after positions stays where it is
    elif place and status:
        place, status = f"{status} {place}", ""
    place = " ".join(filter(None, (place, along)))
    parts = head.parts[found.before + found.name_parts :]
    name = pieces.parts(head.parts[found.before : found.before + found.name_parts])
    others = pieces.runs(line.runs)[len(pieces.run(head)) :]
    if entry is None or entry.kind in {"item", "statement"}:
        return Cells(Shape.PLAIN, status, place, name, "", join(pieces.parts(parts), others))
    if entry.kind == "load" or (entry.kind == "reserve" and line.positions):
        cut = _label_parts(entry, replace(head, parts=parts), vocabulary)
        label, value = pieces.parts(parts[:cut]), pieces.parts(parts[cut:])
        return Cells(Shape.LOAD, status, place, name, label, join(value, others) if value else others)
    return Cells(Shape.PROPERTY, status, place, name, "", join(pieces.parts(parts), others))


def _before(line: Line, before: int, pieces: Pieces) -> tuple[str, str]:
    """The status word and the `at 60 ft` before a name."""
    parts = line.runs[0].parts[:before]
    words = [pieces.part(part) for part in parts]
    if "at" in words:
        cut = words.index("at")
        return " ".join(words[:cut]), " ".join(words[cut:])
    return " ".join(words), ""


def _label_parts(entry: Entry, rest: Run, vocabulary: Vocabulary) -> int:
    """How many parts after the kind of a load are its tag and name."""
    parts = rest.parts
    if not parts or entry.kind != "load":
        return 0
    if isinstance(parts[0], Text):
        return 1
    if len(parts) > 1 and isinstance(parts[1], Text):
        return 2
    providers = tuple(vocabulary.lists["scope-of-supply"].words)
    plain = strip_modifiers(split_percent(sample_parts(parts)), providers).parts
    match = match_patterns(entry.patterns, plain, vocabulary)
    return 1 if isinstance(match, Match) and "tag" in match.values else 0
