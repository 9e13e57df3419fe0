"""How large an expansion will be: counted before it is done, so that a slip of a digit costs no memory."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from fedfrom.model.expand_project import ParsedProject
from fedfrom.syntax.tree import FileSource, For, Line, ListValue, Statement, Typical, Use

MOST_TURNS = 1_000
MOST_BLOCKS = 32
MOST_STATEMENTS = 100_000


@dataclass
class Size:
    """Counts lines. `made` are those made so far; the forecasts are lower bounds, for a range may depend on a value."""

    typicals: Mapping[str, Typical]
    project: ParsedProject
    made: int = 0
    is_full: bool = False
    _known: dict[str, int] = field(default_factory=dict)

    def add(self, lines: int) -> None:
        self.made += lines

    def of_turns(self, statement: For, turns: int) -> int:
        """The lines that a `for` of so many turns makes; an empty turn counts one."""
        return turns * max(1, self._of(statement.block.statements))

    def of_typical(self, name: str) -> int:
        """The lines that one use of a typical makes; 0 for one that is not known, or uses itself."""
        if name not in self._known:
            self._known[name] = 0  # while it is counted: a typical that uses itself is refused elsewhere
            typical = self.typicals.get(name)
            self._known[name] = 0 if typical is None else self._of(typical.block.statements)
        return self._known[name]

    def _of(self, statements: tuple[Statement, ...]) -> int:
        lines = 0
        for statement in statements:
            if isinstance(statement, Line):
                lines += 1 + (0 if statement.block is None else self._of(statement.block.statements))
            elif isinstance(statement, For):
                lines += self.of_turns(statement, self._turns(statement))
            elif isinstance(statement, Use):
                lines += self.of_typical(statement.name.text)
        return lines

    def _turns(self, statement: For) -> int:
        """The turns that can be read off the text, 1 where they depend on a value."""
        source = statement.source
        if isinstance(source, ListValue):
            return len(source.values)
        if isinstance(source, FileSource):
            table = self.project.table(source.path.span.file, source.path.text)
            return 1 if table is None else len(table.rows)
        first, last = source.first.text, source.last.text
        if not (first.isdigit() and last.isdigit()) or max(len(first), len(last)) > 18:
            return 1
        return max(1, int(last) - int(first) + 1)
