"""`expand`: the trees of a project -> one plain tree.

Afterwards there is no include, typical, use, for, change, omit, CSV import or bracket left, and every line that one of
them brought about carries the trail of how it came. Order does not matter, except that loads keep theirs.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from fedfrom.findings import Finding, Label, Severity
from fedfrom.model.expand_change import Changes
from fedfrom.model.expand_check import Typicals, check_project
from fedfrom.model.expand_lines import Describer
from fedfrom.model.expand_loads import import_loads
from fedfrom.model.expand_project import ParsedProject
from fedfrom.model.expand_report import Report
from fedfrom.model.expand_size import MOST_BLOCKS, MOST_STATEMENTS, MOST_TURNS, Size
from fedfrom.model.expand_splices import Splicer, head_has_splice, run_has_splice
from fedfrom.model.expand_values import Binding, Given, Row, Scope, plain_number
from fedfrom.source import SourceFile, Span
from fedfrom.syntax.tree import (
    Accept,
    Block,
    Expect,
    FileSource,
    For,
    Include,
    Line,
    ListValue,
    Parameter,
    RangeSource,
    Run,
    Site,
    Splice,
    Statement,
    Text,
    Tree,
    Typical,
    Use,
    Word,
)
from fedfrom.vocabulary import Vocabulary, load_vocabulary


@dataclass(frozen=True, slots=True)
class Expanded:
    """The plain tree of a project. `incomplete`: something that was written could not be expanded and is missing."""

    tree: Tree
    findings: tuple[Finding, ...]
    files: Mapping[str, SourceFile]
    incomplete: bool = False


def expand(project: ParsedProject, vocabulary: Vocabulary | None = None) -> Expanded:
    """Expand a parsed project. Every problem is a finding; the findings of reading and parsing are not repeated."""
    words = vocabulary or load_vocabulary()
    report = Report()
    typicals = check_project(project, words, report)
    expander = _Expander(project, typicals, words, report)
    statements: list[Statement] = []
    for tree in project.trees.values():
        statements.extend(expander.statements(tree.statements, Place(Scope({}, words.units_instead))))
    describer = Describer(words)
    statements = import_loads(statements, project, describer, report)
    statements = Changes(describer, report).settle(statements)
    incomplete = any(finding.severity is Severity.ERROR for finding in report.findings)
    return Expanded(Tree(project.root, tuple(statements)), report.findings, project.files, incomplete)


@dataclass(frozen=True)
class Place:
    """Where statements are expanded: names in scope, how one got here, the scope of the block, how deep."""

    scope: Scope
    trail: tuple[Site, ...] = ()
    kind: str = "top"
    depth: int = 0

    def inside(self, kind: str) -> Place:
        return replace(self, kind=kind, depth=self.depth + 1)

    def turn(self, scope: Scope, site: Site) -> Place:
        return replace(self, scope=scope, trail=(*self.trail, site), depth=self.depth + 1)


@dataclass
class _Expander:
    project: ParsedProject
    typicals: Typicals
    vocabulary: Vocabulary
    report: Report
    size: Size = field(init=False)
    describer: Describer = field(init=False)
    changes: Changes = field(init=False)

    def __post_init__(self) -> None:
        self.size = Size(self.typicals.by_name, self.project)
        self.describer = Describer(self.vocabulary)
        self.changes = Changes(self.describer, self.report)

    def statements(self, statements: tuple[Statement, ...], place: Place) -> list[Statement]:
        """Statements without anything that expands, in the order of the text."""
        made: list[Statement] = []
        for statement in statements:
            if self.size.is_full:
                break
            if isinstance(statement, Line):
                made.append(self._line(statement, place))
            elif isinstance(statement, (For, Use)):
                more = self._for(statement, place) if isinstance(statement, For) else self._use(statement, place)
                made.extend(_gap(statement, place) if more is None else more)
            elif isinstance(statement, Accept):
                if place.kind == "top":
                    splicer = self._splicer(place, statement.rule.text)
                    made.append(replace(splicer.accept(statement), trail=(*statement.trail, *place.trail)))
            elif isinstance(statement, Expect):
                if place.kind == "top":
                    splicer = self._splicer(place, "expect")
                    made.append(replace(splicer.expect(statement), trail=(*statement.trail, *place.trail)))
            elif not isinstance(statement, (Include, Typical)) and place.kind == "top" and place.depth == 0:
                made.append(statement)  # the version of the language
        return made

    def _splicer(self, place: Place, about: str | Line) -> Splicer:
        return Splicer(place.scope, self.report.add, about)

    def _line(self, line: Line, place: Place) -> Line:
        self.size.add(1)
        block = line.block
        if head_has_splice(line):
            line = self._splicer(place, line).line(line)
        if place.trail:
            trail = (*line.trail, *place.trail)
            line = Line(line.positions, line.runs, line.block, line.span, trail, line.unreadable)
        if block is None:
            return line
        if self._is_too_deep(place, line.span):
            return replace(line, block=Block((), block.span), unreadable=True)
        named = self.describer.describe(line, place.kind)
        inner = self.statements(block.statements, place.inside(self.describer.inner_scope(named)))
        if len(inner) == len(block.statements) and all(a is b for a, b in zip(inner, block.statements, strict=True)):
            return line
        return replace(line, block=Block(tuple(inner), block.span))

    # --- for -----------------------------------------------------------------------------------------------------

    def _for(self, statement: For, place: Place) -> list[Statement] | None:
        """What the turns make; None (and a finding) where they cannot be made."""
        head = Span(statement.span.file, statement.span.start, statement.source.span.end)
        turns = self._turns(statement, place)
        subject = statement.name.text
        if turns is None or self._is_too_deep(place, head):
            return None
        if len(turns) > MOST_TURNS:
            message = f"the `for` has {len(turns)} turns, and {MOST_TURNS} is the most"
            self.report.error("too-many-turns", subject, message, statement.source.span, "divide the range")
            return None
        if self._is_too_much(self.size.of_turns(statement, len(turns)), subject, head):
            return None
        made: list[Statement] = []
        for text, binding in turns:
            before = self.size.made
            scope = place.scope.with_binding(statement.name.text, binding)
            made.extend(self.statements(statement.block.statements, place.turn(scope, Site(head, text))))
            self.size.add(1 if self.size.made == before else 0)
            if self._is_too_much(0, subject, head):
                return None
        return made

    def _turns(self, statement: For, place: Place) -> list[tuple[str, Binding]] | None:
        """The turns of a `for`: what the variable stands for in each, and that in words. None: they are not known."""
        name, source = statement.name.text, statement.source
        if isinstance(source, FileSource):
            table = self.project.table(source.path.span.file, source.path.text)
            if table is None:
                return None
            if not table.rows:
                self._empty(name, f"`{table.name}` has no rows", source.span)
                return None
            return [(f"for {name}, line {row.line} of {table.name}", Row(table, row)) for row in table.rows]
        if isinstance(source, RangeSource):
            return self._range(name, source, place)
        return self._list(name, source, place)

    def _range(self, name: str, source: RangeSource, place: Place) -> list[tuple[str, Binding]] | None:
        splicer = self._splicer(place, name)
        words = [splicer.word(source.first), splicer.word(source.last)]
        if splicer.failed:
            return None
        for word in words:
            if not word.text.replace("_", "").isdigit() or len(word.text) > 18:
                message = f"`{word.text}` is not a whole number of sensible size"
                advice = "a range goes from one whole number to another: `2..12`"
                self.report.error("range-number", name, message, word.span, advice)
                return None
        first, last = (int(word.text) for word in words)
        if first > last:
            message = f"the range {first}..{last} is empty: its last number is less than its first"
            self.report.error("range-empty", name, message, source.span, f"write `{last}..{first}`")
            return None
        if last - first >= MOST_TURNS:
            message = f"the `for` has {last - first + 1} turns, and {MOST_TURNS} is the most"
            self.report.error("too-many-turns", name, message, source.span, "divide the range")
            return None
        width = len(words[0].text) if words[0].text.startswith("0") else 0  # 01..12 keeps its zeros
        numbers = [str(number).rjust(width, "0") for number in range(first, last + 1)]
        return [(f"for {name} {number}", Given((Word((number,), source.span),), source.span)) for number in numbers]

    def _list(self, name: str, source: ListValue, place: Place) -> list[tuple[str, Binding]] | None:
        splicer = self._splicer(place, name)
        turns: list[tuple[str, Binding]] = []
        seen: dict[str, Span] = {}
        for run in source.values:
            value = self._given(run, splicer, name)
            if value is None:
                return None
            if value.text in seen:
                related = (Label(seen[value.text], "the first"),)
                message = f"`{value.text}` stands twice in the list"
                self.report.error("list-twice", name, message, run.span, "leave one out", related)
                return None
            seen[value.text] = run.span
            turns.append((f"for {name} {value.text}", value))
        if not turns:
            self._empty(name, "the list is empty", source.span)
            return None
        return turns

    def _empty(self, name: str, message: str, span: Span) -> None:
        self.report.error("range-empty", name, f"{message}, so that the `for` makes nothing", span)

    # --- use -----------------------------------------------------------------------------------------------------

    def _use(self, use: Use, place: Place) -> list[Statement] | None:
        """What the typical makes here; None (and a finding) where it cannot."""
        typical = self.typicals.by_name.get(use.name.text)
        end = use.span.end if use.block is None else use.block.span.start
        head = Span(use.span.file, use.span.start, end)
        if typical is None or typical.name.text in self.typicals.circular:
            return None  # has its finding
        arguments = self._arguments(use, typical, place)
        if arguments is None or self._is_too_deep(place, head):
            return None
        if self._is_too_much(self.size.of_typical(typical.name.text), typical.name.text, head):
            return None
        given = {argument.name.text for argument in use.arguments}
        shown = [f"{name} {value.text}" for name, value in arguments.items() if name in given]
        site = Site(_trimmed(head, self.project.files), ", ".join([f"in {typical.name.text}", *shown]))
        body = place.turn(place.scope.only(arguments), site)
        made = self.statements(typical.block.statements, body)
        if use.block is None:
            return made
        orders = self.statements(use.block.statements, replace(place, kind="use", depth=place.depth + 1))
        return self.changes.of_use(made, orders, place.kind, use.name)

    def _arguments(self, use: Use, typical: Typical, place: Place) -> dict[str, Given] | None:
        """Parameter -> value, in the order of the parameters; None where one is missing or has no value."""
        splicer = self._splicer(place, typical.name.text)
        written: dict[str, Run] = {}
        for argument in use.arguments:
            if argument.name.text in written:
                return None
            written[argument.name.text] = argument.value
        if any(name not in {p.name.text for p in typical.parameters} for name in written):
            return None
        values: dict[str, Given] = {}
        for parameter in typical.parameters:
            value = self._argument(parameter, written, splicer, typical.name.text, place)
            if value is None:
                return None
            values[parameter.name.text] = value
        return values

    def _argument(
        self, parameter: Parameter, written: Mapping[str, Run], splicer: Splicer, subject: str, place: Place
    ) -> Given | None:
        run = written.get(parameter.name.text)
        if run is not None:
            return self._given(run, splicer, subject)
        if parameter.default is None:
            return None
        return self._given(parameter.default, self._splicer(Place(place.scope.only({})), subject), subject)

    def _given(self, run: Run, splicer: Splicer, subject: str) -> Given | None:
        """A written value; one pair of brackets alone hands its value on as it is, exactly."""
        first = run.parts[0]
        if len(run.parts) == 1 and isinstance(first, Word) and len(first.segments) == 1:
            segment = first.segments[0]
            if isinstance(segment, Splice):
                return splicer.value(segment)
        made = splicer.run(run) if run_has_splice(run) else run
        if splicer.failed:
            return None
        if any(isinstance(part, ListValue) for part in made.parts):
            message = "a list cannot be given as a value"
            self.report.error("value-is-list", subject, message, run.span, "give one value; a `for` goes over a list")
            return None
        return Given(tuple(plain_number(part) for part in made.parts if isinstance(part, (Word, Text))), run.span)

    # --- limits --------------------------------------------------------------------------------------------------

    def _is_too_deep(self, place: Place, span: Span) -> bool:
        if place.depth < MOST_BLOCKS:
            return False
        message = f"blocks stand more than {MOST_BLOCKS} deep in each other after expansion"
        self.report.error("too-deep", "", message, span, "use fewer typicals inside typicals")
        return True

    def _is_too_much(self, more: int, subject: str, span: Span) -> bool:
        if self.size.made + more <= MOST_STATEMENTS and not self.size.is_full:
            return False
        if not self.size.is_full:
            message = f"the project would have more than {MOST_STATEMENTS} statements after expansion"
            self.report.error("too-many-statements", subject, message, span, "divide the project")
        self.size.is_full = True
        return True


def _gap(statement: For | Use, place: Place) -> list[Statement]:
    """What stands for lines that could not be made: inside gear an unreadable line, so that its loads are not known."""
    if place.kind in ("top", "use"):
        return []
    run = Run((statement.name,), statement.name.span)
    return [Line((), (run,), None, statement.name.span, place.trail, unreadable=True)]


def _trimmed(span: Span, files: Mapping[str, SourceFile]) -> Span:
    """A span without the blanks at its end."""
    source = files.get(span.file)
    if source is None:
        return span
    return Span(span.file, span.start, span.start + len(source.text[span.start : span.end].rstrip()))
