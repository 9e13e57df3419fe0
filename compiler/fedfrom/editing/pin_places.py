"""Where the lines of a design stand in its texts, and which of them may be edited in place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from fedfrom.editing.pin_types import Home
from fedfrom.source import SourceFile, Span
from fedfrom.syntax.parse import parse_file
from fedfrom.syntax.tree import For, Line, Statement, Tree, Typical, Use


@dataclass(frozen=True, slots=True)
class Spot:
    """A line of a tree with the `typical` or `for` that it stands in (None: it says one thing only)."""

    line: Line
    repeats: Typical | For | None


class Places:
    """The lines of all files of a project by where they stand."""

    def __init__(self, files: Mapping[str, SourceFile]) -> None:
        self.files = files
        self.trees: dict[str, Tree] = {}
        self._spots: dict[str, dict[int, Spot]] = {}

    def spot(self, span: Span) -> Spot | None:
        """The line that a span is or begins; None where there is none (the row of a table)."""
        if not span.file.endswith(".fed") or span.file not in self.files:
            return None
        if span.file not in self._spots:
            tree = self.trees[span.file] = parse_file(self.files[span.file]).tree
            self._spots[span.file] = dict(_spots(tree.statements, None))
        return self._spots[span.file].get(span.start)

    def text(self, name: str) -> str:
        return self.files[name].text

    def why_not_here(self, home: Home) -> str:
        """Why the line of a home cannot be edited in place; "" where it can."""
        spot = self.spot(home.span)
        if spot is None:
            return f"it comes from the table `{home.span.file}`"
        match spot.repeats:
            case Typical(name=name):
                return f"it comes from `typical {name.text}`, which others use too"
            case For(name=name):
                return f"it comes from the lines that `for {name.text}` repeats"
        return ""


def _spots(statements: Sequence[Statement], repeats: Typical | For | None) -> Iterator[tuple[int, Spot]]:
    """The lines by their start; `repeats` is the `typical` around them, else the innermost `for`."""
    for statement in statements:
        if isinstance(statement, Line):
            yield statement.span.start, Spot(statement, repeats)
        if isinstance(statement, (Line, Typical, For, Use)) and statement.block is not None:
            maker = statement if isinstance(statement, (Typical, For)) else repeats
            yield from _spots(statement.block.statements, repeats if isinstance(repeats, Typical) else maker)
