"""Reading one statement alone: the statement, or what is wrong with it and what could be kept of it."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from fedfrom.findings import Finding, Severity
from fedfrom.source import Span
from fedfrom.syntax.build import Builder
from fedfrom.syntax.fallback import expected_instead
from fedfrom.syntax.grammar import file_parser
from fedfrom.syntax.mistakes import explain
from fedfrom.syntax.tree import Block, Line, Parameter, Run, Statement, Typical, Version, Word

if TYPE_CHECKING:
    from lark.exceptions import UnexpectedInput

_MOST_CUTS = 4
_IN_WORD = re.compile(r"[\w.\-/\[%]")
_TYPICAL = re.compile(r"[ \t]*typical[ \t]+(?P<name>[A-Za-z_][\w\-]*)[ \t]*\(?(?P<rest>[^\r\n]*)")


@dataclass(frozen=True, slots=True)
class OneStatement:
    """A statement and what is wrong with it.

    With a finding, `statement` is a `Line` marked unreadable, or another statement where the mistake leaves no doubt of
    what is meant (`use F(level = 7)`).
    """

    statement: Statement
    finding: Finding | None


def read_statement(
    text: str, file: str, start: int, end: int, *, is_head: bool, may_be_version: bool, subject: str
) -> OneStatement:
    """The statement in `[start, end)` of a file's text, without the `{` of its block.

    `is_head`: a block belongs to it. `may_be_version`: nothing stands before it in the file. `subject`: what a finding
    is about.
    """
    source = text[start:end]
    statement, builder, error = _alone(source + ("{}" if is_head else ""), file, start)
    if statement is None:
        assert error is not None
        finding = explain(source, file, start, subject) or expected_instead(error, source, file, start, subject)
        kept = _repaired(source, file, start, finding, is_head)
        kept = kept or _salvaged_typical(source, file, start, is_head)
        return OneStatement(kept or _salvaged(source, file, start, _place(error, source)), finding)
    if builder.errors:
        span, problem = builder.errors[0]
        finding = Finding(
            "invalid-arithmetic", Severity.ERROR, subject, problem.message, span, label="here", help=problem.help
        )
        return OneStatement(_salvaged(source, file, start, span.start - start), finding)
    if builder.doubts or (isinstance(statement, Version) and not may_be_version):
        doubted = explain(source, file, start, subject, parses=True)
        if doubted is not None:
            kept = _repaired(source, file, start, doubted, is_head)
            if kept is None and isinstance(statement, Line):
                kept = replace(statement, unreadable=True)
            return OneStatement(kept or _salvaged(source, file, start, len(source)), doubted)
    return OneStatement(statement, None)


def read_whole(text: str, file: str, start: int, end: int) -> Statement | None:
    """A statement with its block, when there is nothing wrong with any of it."""
    statement, builder, _error = _alone(text[start:end], file, start)
    if statement is None or builder.errors or builder.doubts or isinstance(statement, Version):
        return None
    return statement


def unreadable(text: str, file: str, start: int, end: int) -> Line:
    """What can be kept of the statement in `[start, end)`, as a line that is not to be trusted."""
    source = text[start:end]
    statement, builder, error = _alone(source, file, start)
    if isinstance(statement, Line) and not builder.errors:
        return replace(statement, unreadable=True)
    return _salvaged(source, file, start, _place(error, source))


def _alone(source: str, file: str, start: int) -> tuple[Statement | None, Builder, UnexpectedInput | None]:
    from lark.exceptions import UnexpectedInput

    builder = Builder(file, start - 1)
    try:
        tree = file_parser().parse("\n" + source + "\n", start="alone")
    except UnexpectedInput as error:
        return None, builder, error
    return builder.file_statements(tree)[0], builder, None


def _repaired(source: str, file: str, start: int, finding: Finding, is_head: bool) -> Statement | None:
    """The statement as the finding's own repair would have it, where that fits into the place of the mistake.

    A line is still marked unreadable: the repair is a guess. The other statements are kept, so that what they bring
    about (the gear that a `use` makes) is not missed elsewhere.
    """
    if finding.fix is None:
        return None
    repaired = source
    for edit in finding.fix.edits:
        at, end = edit.span.start - start, edit.span.end - start
        if len(edit.text) > end - at:
            return None
        repaired = repaired[:at] + edit.text.ljust(end - at) + repaired[end:]
    statement, builder, _error = _alone(repaired + ("{}" if is_head else ""), file, start)
    if statement is None or builder.errors or builder.doubts or isinstance(statement, Version):
        return None
    return replace(statement, unreadable=True) if isinstance(statement, Line) else statement


def _salvaged_typical(source: str, file: str, start: int, is_head: bool) -> Typical | None:
    """A typical with the parameters that can be read, so that its uses are not told that there is none."""
    match = _TYPICAL.match(source)
    if match is None or not is_head:
        return None
    name = Word((match["name"],), Span(file, start + match.start("name"), start + match.end("name")))
    parameters: list[Parameter] = []
    at = match.start("rest")
    for piece in match["rest"].split(","):
        before = "typical x("
        statement, _builder, _error = _alone(before + piece.rstrip(") \t") + "){}", file, start + at - len(before))
        if isinstance(statement, Typical):
            parameters.extend(statement.parameters)
        at += len(piece) + 1
    span = Span(file, start, start + len(source))
    return Typical(name, tuple(parameters), Block((), Span(file, span.end, span.end)), span)


def _salvaged(source: str, file: str, start: int, broken_at: int) -> Line:
    """What stands before the place where a statement breaks, as an unreadable line.

    Everything before the first token that cannot stand is the start of some statement; with the last word or two taken
    off, it mostly reads as a line.
    """
    span = Span(file, start, start + max(len(source), 1))
    before = source[:broken_at]
    opened = before.rfind("[")
    if opened > before.rfind("]"):
        before = before[:opened]
    if before and _IN_WORD.match(source, len(before)) and before[-1] not in " \t,":
        before = before.rpartition(" ")[0]
    for _ in range(_MOST_CUTS):
        before = before.rstrip(" \t,\r\n")
        if not before:
            break
        statement, builder, _error = _alone(before, file, start)
        if isinstance(statement, Line) and not builder.errors:
            return replace(statement, span=span, unreadable=True)
        before = before.rpartition(" ")[0]
    first = (source.split() or ["{"])[0]
    word = Word((first,), Span(file, start, start + len(first)))
    return Line((), (Run((word,), word.span),), None, span, unreadable=True)


def _place(error: UnexpectedInput | None, source: str) -> int:
    """Where in `source` (parsed with one line end before it) the parser stopped."""
    at = getattr(error, "pos_in_stream", None)
    if at is None or getattr(getattr(error, "token", None), "type", "") == "$END":
        return len(source)
    return max(int(at) - 1, 0)
