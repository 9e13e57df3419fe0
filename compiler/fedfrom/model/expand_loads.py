"""`loads from "file.csv"`: each row of a sender's table becomes a plain load line of the gear that it goes to.

The lines stand after those written in the gear, in the order of the file, so that a `change` in the gear can mean them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from fedfrom.findings.nearest import listed, nearest
from fedfrom.model.csv_cells import TableReading
from fedfrom.model.csv_fields import Columns, read_columns
from fedfrom.model.csv_rows import load_line
from fedfrom.model.csv_table import Cell, CsvRow, CsvTable, heading_finding
from fedfrom.model.expand_lines import STATUS_WORDS, Describer, Named, first_word, run_text
from fedfrom.model.expand_option import with_number
from fedfrom.model.expand_project import ParsedProject, loads_path
from fedfrom.model.expand_report import Report
from fedfrom.source import Span
from fedfrom.syntax.tree import Block, Line, Part, Run, Site, Statement, Text, Word

_FORM = 'write `loads from "file.csv" into TAG { … }`'


def import_loads(
    statements: list[Statement], project: ParsedProject, describer: Describer, report: Report
) -> list[Statement]:
    """Statements with the rows of every `loads from` in their gear, and without those statements."""
    taken = _Import(project, describer, report)
    kept = taken.without_imports(statements, "top", "")
    if not taken.orders:
        return statements
    for order in taken.orders:
        taken.rows(order)
    return taken.attached(kept, "top")


@dataclass(frozen=True, slots=True)
class Order:
    """One `loads from`, and the tag of the gear that it stands in ("" at the top level)."""

    line: Line
    inside: str


@dataclass
class _Import:
    project: ParsedProject
    describer: Describer
    report: Report
    orders: list[Order] = field(default_factory=list)
    gear: dict[str, Span] = field(default_factory=dict)
    lines: dict[str, list[Line]] = field(default_factory=dict)
    words: frozenset[str] = field(init=False)

    def __post_init__(self) -> None:
        kinds = self.describer.vocabulary.item_kinds
        self.words = frozenset({*(kind.split()[0] for kind in kinds), *STATUS_WORDS, "loads"})

    def without_imports(self, statements: list[Statement], kind: str, inside: str) -> list[Statement]:
        """Statements without their `loads from`, which go to `orders`; gear goes to `gear`."""
        kept: list[Statement] = []
        for statement in statements:
            if not isinstance(statement, Line) or not self._matters(statement):
                kept.append(statement)
                continue
            named = self.describer.describe(statement, kind)
            if named.name == "loads from":
                self._order(statement, inside)
                continue
            if named.is_item and named.tag:
                self.gear.setdefault(named.tag, statement.runs[0].span)
            kept.append(self._without(statement, named, inside))
        return kept

    def _matters(self, line: Line) -> bool:
        """Whether a line can be gear or an import: a quick look, for most lines are neither."""
        return line.block is not None or first_word(line) in self.words

    def _without(self, line: Line, named: Named, inside: str) -> Line:
        if line.block is None:
            return line
        before = list(line.block.statements)
        after = self.without_imports(before, self.describer.inner_scope(named), named.tag or inside)
        if len(after) == len(before) and all(a is b for a, b in zip(after, before, strict=True)):
            return line
        return replace(line, block=Block(tuple(after), line.block.span))

    def _order(self, line: Line, inside: str) -> None:
        if line.unreadable:
            return
        if loads_path(line) is None:
            self.report.error("loads-form", "loads from", "`loads from` names no file", line.runs[0].span, _FORM)
        else:
            self.orders.append(Order(line, inside))

    # --- rows ----------------------------------------------------------------------------------------------------

    def rows(self, order: Order) -> None:
        """Reads the rows of one import into `lines`."""
        path = loads_path(order.line)
        assert path is not None
        table = self.project.table(path.span.file, path.text)
        columns = None if table is None else self._columns(order, table)
        target = self._target(order, table)
        if table is None or columns is None:
            if isinstance(target, str):  # the gear's loads are not known: it must not look as if there were none
                self.lines.setdefault(target, []).append(replace(order.line, block=None, unreadable=True))
            return
        if target is None:
            return
        if not table.rows:
            message = f"`{table.name}` has no rows, so that it brings no loads"
            self.report.warning("csv-empty", table.name, message, path.span, "check the file")
        reading = TableReading(table, columns, self.describer.vocabulary, self.report)
        head = order.line.runs[0].span
        for row in table.rows:
            tag = target if isinstance(target, str) else self._row_target(row, target, table)
            site = Site(head, f"line {row.line} of {table.name}")
            line = load_line(reading, row, (*order.line.trail, site))
            if line is not None and tag:
                self.lines.setdefault(tag, []).append(line)

    def _columns(self, order: Order, table: CsvTable) -> Columns | None:
        inside = [] if order.line.block is None else order.line.block.statements
        runs = list(order.line.runs[1:])
        for statement in inside:
            if isinstance(statement, Line):
                runs.extend(with_number(statement))
        columns = read_columns(runs, table, self.describer.vocabulary, table.name, self.report)
        if columns is None:
            return None
        for name, example in (("kind", "kind kitchen"), ("name", 'name "Description"')):
            if name not in columns.fields and not (name == "name" and "tag" in columns.fields):
                message = f"the loads from `{table.name}` have no {name}"
                more = ", or the column that holds it" if name == "kind" else ""
                advice = f"write `{example}` in the braces{more}"
                self.report.error("csv-column", table.name, message, order.line.runs[0].span, advice)
                return None
        return columns

    # --- where rows go -------------------------------------------------------------------------------------------

    def _target(self, order: Order, table: CsvTable | None) -> str | int | None:
        """The tag of the gear, or the column that holds it; None and a finding where neither is said."""
        head = order.line.runs[0]
        after = head.parts[3:]
        name = "loads from" if table is None else table.name
        if not after:
            if order.inside:
                return order.inside
            self.report.error("loads-form", name, "the loads go into no gear", head.span, _FORM)
            return None
        first, goal = after[0], after[1] if len(after) == 2 else None
        if not (isinstance(first, Word) and first.text == "into" and isinstance(goal, (Word, Text))):
            shown = run_text(Run(after, after[0].span))
            self.report.error("loads-form", name, f"`{shown}` cannot stand here", _over(after), _FORM)
            return None
        if isinstance(goal, Text):
            return None if table is None else self._target_column(goal, table)
        if order.inside and goal.text != order.inside:
            message = f"these loads stand in {order.inside} and go into {goal.text}"
            self.report.error("loads-form", name, message, goal.span, "write them at the top level")
            return None
        return goal.text if self._is_gear(goal.text, goal.span, name) else None

    def _target_column(self, goal: Text, table: CsvTable) -> int | None:
        column = table.columns.get(" ".join(goal.text.split()))
        if column is None:
            self.report.add(heading_finding(table, goal.text, goal.span))
        return column

    def _row_target(self, row: CsvRow, column: int, table: CsvTable) -> str:
        cell: Cell = row.cells[column]
        if not cell.has_value:
            heading = table.headings[column].text
            message = f"line {row.line} of `{table.name}` says no gear under `{heading}`"
            self.report.error("csv-cell-empty", table.name, message, cell.span, "write the tag of the gear there")
            return ""
        return cell.text if self._is_gear(cell.text, cell.span, table.name) else ""

    def _is_gear(self, tag: str, span: Span, subject: str) -> bool:
        if tag in self.gear:
            return True
        close = nearest(tag, self.gear)
        advice = f"{listed(close)} is close" if close else f"write `panelboard {tag} {{ … }}`, or another kind of gear"
        self.report.error("loads-target", subject, f"no gear is tagged `{tag}`", span, advice)
        return False

    # --- into the tree -------------------------------------------------------------------------------------------

    def attached(self, statements: list[Statement], kind: str) -> list[Statement]:
        """Statements with the lines that go to each piece of gear after those that stand in it."""
        return list(self._attached(statements, kind))

    def _attached(self, statements: list[Statement], kind: str) -> Iterator[Statement]:
        for statement in statements:
            if not isinstance(statement, Line):
                yield statement
                continue
            named = self.describer.describe(statement, kind)
            more = self.lines.pop(named.tag, []) if named.is_item and named.tag else []
            inside = [] if statement.block is None else list(statement.block.statements)
            after = [*self._attached(inside, self.describer.inner_scope(named)), *more]
            if more or any(a is not b for a, b in zip(after, inside, strict=False)):
                span = statement.block.span if statement.block is not None else statement.span
                statement = replace(statement, block=Block(tuple(after), span))
            yield statement


def _over(parts: tuple[Part, ...]) -> Span:
    return parts[0].span.to(parts[-1].span)
