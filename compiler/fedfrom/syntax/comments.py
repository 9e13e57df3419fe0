"""Comments and blank lines of a file, by line. The tree has neither; the formatter puts them back from here."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.source import SourceFile, Span
from fedfrom.syntax.scan import comment_places


@dataclass(frozen=True, slots=True)
class Comment:
    """A comment: `text` from its `#` to the last visible character; `span` covers exactly that.

    `line` counts from 1. `own_line`: nothing stands before it on its line. `after_blank`: the line before it is blank
    (or it is on the first line of the file).
    """

    text: str
    span: Span
    line: int
    own_line: bool
    after_blank: bool


def comments(source: SourceFile) -> tuple[Comment, ...]:
    """Every comment of a file, in order. What looks like one inside a text is none."""
    found = []
    for start, end in comment_places(source.text):
        place = source.place(start)
        text = source.text[start:end].rstrip()
        before = source.line_text(place.line)[: place.column - 1]
        found.append(
            Comment(
                text,
                Span(source.name, start, start + len(text)),
                place.line,
                not before.strip(" \t\ufeff"),
                place.line == 1 or _is_blank(source, place.line - 1),
            )
        )
    return tuple(found)


def blank_lines(source: SourceFile) -> tuple[int, ...]:
    """The numbers (from 1) of the lines with nothing visible on them (not of the one after the last line end)."""
    last = len(source.line_starts)
    if source.text.endswith("\n"):
        last -= 1
    return tuple(line for line in range(1, last + 1) if _is_blank(source, line))


def _is_blank(source: SourceFile, line: int) -> bool:
    return not source.line_text(line).strip(" \t\ufeff")
