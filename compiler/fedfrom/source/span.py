"""Places in source text: half-open ranges of code points; line and column are derived, never stored."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, field
from functools import cached_property


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A half-open range of code points in one file. `file` is relative to the project, with "/" on every system."""

    file: str
    start: int
    end: int

    def to(self, other: Span) -> Span:
        """The span from the start of this one to the end of `other` (same file)."""
        return Span(self.file, min(self.start, other.start), max(self.end, other.end))


@dataclass(frozen=True, slots=True)
class Place:
    """A place for a reader: line and column count from 1, columns in code points (a tab counts one)."""

    line: int
    column: int


@dataclass(frozen=True)
class SourceFile:
    """One text of the project. `name` is relative to the project folder, with "/"; line ends are kept as read."""

    name: str
    text: str
    path: str = field(default="", compare=False)

    @cached_property
    def line_starts(self) -> tuple[int, ...]:
        starts = [0]
        for index, character in enumerate(self.text):
            if character == "\n":
                starts.append(index + 1)
        return tuple(starts)

    def place(self, offset: int) -> Place:
        """Line and column (from 1) of an offset; an offset past the end is the end."""
        offset = min(max(offset, 0), len(self.text))
        line = bisect_right(self.line_starts, offset)
        return Place(line, offset - self.line_starts[line - 1] + 1)

    def line_text(self, line: int) -> str:
        """The text of a line (from 1), without its line end."""
        start = self.line_starts[line - 1]
        end = self.line_starts[line] if line < len(self.line_starts) else len(self.text)
        return self.text[start:end].rstrip("\r\n")
