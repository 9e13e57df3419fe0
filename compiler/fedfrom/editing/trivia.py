"""Comments and blank lines of a file, given to the statements and blocks that they belong to."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

from fedfrom.source import SourceFile
from fedfrom.syntax.comments import Comment, blank_lines, comments
from fedfrom.syntax.tree import Statement


@dataclass(frozen=True, slots=True)
class Entry:
    """A statement, or a comment on a line of its own. `spaced`: a blank line stands before it."""

    what: Statement | Comment
    spaced: bool


Entries: TypeAlias = "list[Entry]"


@dataclass(slots=True)
class BlockTrivia:
    """What stands in a block: its entries, the comment after its `{`, those after statements (by start)."""

    entries: Entries = field(default_factory=list)
    opening: str = ""
    trailing: dict[int, str] = field(default_factory=dict)


class Trivia:
    """Comments and blank lines of one file."""

    def __init__(self, source: SourceFile) -> None:
        self.source = source
        self.comments = comments(source)
        self.starts = [comment.span.start for comment in self.comments]
        self.blank = frozenset(blank_lines(source))

    def between(self, start: int, end: int) -> Sequence[Comment]:
        """The comments that start in `[start, end)`."""
        return self.comments[bisect_left(self.starts, start) : bisect_left(self.starts, end)]

    def of_block(self, statements: Sequence[Statement], start: int, end: int) -> BlockTrivia:
        """What stands between two offsets that hold exactly these statements (in the order of the text)."""
        block = BlockTrivia()
        at = start
        before: Statement | None = None
        for statement in (*statements, None):
            until = statement.span.start if statement is not None else end
            for comment in self.between(at, until):
                if comment.own_line:
                    block.entries.append(Entry(comment, self._spaced(block, comment.line)))
                elif before is None:
                    block.opening = comment.text
                else:
                    block.trailing[before.span.start] = comment.text
            if statement is not None:
                line = self.source.place(statement.span.start).line
                block.entries.append(Entry(statement, self._spaced(block, line)))
                at, before = statement.span.end, statement
        return block

    def _spaced(self, block: BlockTrivia, line: int) -> bool:
        return bool(block.entries) and line - 1 in self.blank
