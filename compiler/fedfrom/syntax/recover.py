"""Reading a file that did not parse: every statement alone, braces mended, the rest of the tree kept.

A statement that cannot be read stays in the tree as a `Line` with `unreadable=True` and the words at its start, so
that its tag is still known to whoever refers to it. A head that cannot be read keeps its block.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from itertools import pairwise

from fedfrom.findings import Edit, Finding, Fix, Severity
from fedfrom.source import Span
from fedfrom.syntax.braces import Fault, Step, mend
from fedfrom.syntax.build import Builder
from fedfrom.syntax.fallback import expected_instead
from fedfrom.syntax.grammar import file_parser
from fedfrom.syntax.mistakes import explain
from fedfrom.syntax.scan import Kind, Piece, scan
from fedfrom.syntax.tree import Block, For, Line, Run, Statement, Text, Typical, Use, Version, Word

#: Statements that stand only at the top level: evidence for a missing `}` in a file without indentation.
_ONLY_AT_TOP = re.compile(
    r"(?:fedfrom|project|defaults|include|typical|utility|room|tie|interlock|state|noncoincident|catalog|accept|expect)\b"
)
_WORDS = re.compile(r"[ \t]*(?:(?P<word>\w+(?:[-./]\w+)*%?)|\"(?P<text>(?:[^\"\\\r\n\[\]]|\\[\"\\])*)\")(?=[ \t]|$)")
_MOST_WORDS = 8


@dataclass(slots=True)
class _Open:
    """A block that is being filled: its head and what it holds so far."""

    head: Statement
    start: int
    statements: list[Statement] = field(default_factory=list)


def recover(text: str, file: str, distrusted: frozenset[int]) -> tuple[tuple[Statement, ...], list[Finding]]:
    """The statements of a text and what is wrong with it.

    `text` has no character that the language does not use (`characters.clean`); on the lines in `distrusted` (from 0)
    something was lost in cleaning and told already, so that what stands there is unreadable without a second finding.
    """
    return _Recovery(text, file, distrusted).run()


class _Recovery:
    def __init__(self, text: str, file: str, distrusted: frozenset[int]) -> None:
        self.text = text
        self.file = file
        self.silent = set(distrusted)
        self.findings: list[Finding] = []
        self.stack: list[_Open] = []
        self.top: list[Statement] = []
        self.parse = file_parser().parse

    def run(self) -> tuple[tuple[Statement, ...], list[Finding]]:
        pieces = self._join_heads(scan(self.text))
        top_level = frozenset(i for i, piece in enumerate(pieces) if _ONLY_AT_TOP.match(self.text, piece.start))
        mended = mend(pieces, top_level)
        stray = set()
        for fault, piece in mended.faults:
            self.findings.append(self._brace_finding(fault, piece))
            if fault is Fault.OPENS_NOTHING:
                stray.add(piece)
            if fault is not Fault.NOT_CLOSED:
                self.silent.add(piece.line)
        self._find_glued(pieces)
        for step in mended.steps:
            self._take(step, stray)
        return tuple(self.top), self.findings

    # --- structure ----------------------------------------------------------------------------------------------------

    def _join_heads(self, pieces: list[Piece]) -> list[Piece]:
        """A `{` on a line of its own belongs to the line before it, which is told."""
        joined: list[Piece] = []
        for piece in pieces:
            bare = piece.kind is Kind.HEAD and piece.end == piece.start + 1
            if bare and piece.first and joined and joined[-1].kind is Kind.LINE:
                head = joined.pop()
                span = Span(self.file, piece.start, piece.end)
                self.findings.append(
                    Finding(
                        "invalid-braces",
                        Severity.ERROR,
                        self._words(head.start, head.end),
                        "`{` stands on the line after its head",
                        span,
                        label="a statement ends with its line",
                        help="write `{` at the end of the line before",
                    )
                )
                joined.append(replace(head, kind=Kind.HEAD, end=piece.end))
            else:
                joined.append(piece)
        return joined

    def _find_glued(self, pieces: list[Piece]) -> None:
        """Two statements on one line: something stands after a `}`."""
        for before, piece in pairwise(pieces):
            if before.kind is Kind.CLOSE and piece.kind is not Kind.CLOSE and not piece.first:
                if piece.line not in self.silent:
                    self.findings.append(
                        Finding(
                            "invalid-line",
                            Severity.ERROR,
                            self._words(piece.start, piece.end),
                            "a second statement stands on the line",
                            Span(self.file, piece.start, piece.end),
                            label="after the `}`",
                            help="write it on a line of its own",
                        )
                    )
                self.silent.add(piece.line)

    def _take(self, step: Step, stray: set[Piece]) -> None:
        piece = step.piece
        if step.kind is Kind.CLOSE:
            self._close(piece)
            return
        assert piece is not None
        end = piece.end
        if step.kind is Kind.HEAD or self.text[end - 1] == "{":
            end -= 1 if self.text[end - 1] == "{" else 0
        is_head = step.kind is Kind.HEAD and piece not in stray
        statement = self._read(piece.start, end, is_head, piece.line)
        if step.kind is Kind.HEAD:
            self.stack.append(_Open(statement, piece.end - 1))
        else:
            self._add(statement)

    def _close(self, piece: Piece | None) -> None:
        done = self.stack.pop()
        if piece is not None:
            end = piece.end
        else:
            end = max([done.start + 1, *(statement.span.end for statement in done.statements)])
        self._add(self._filled(done, end))

    def _filled(self, done: _Open, end: int) -> Statement:
        head = done.head
        block = Block(tuple(done.statements), Span(self.file, min(done.start, end), end))
        span = Span(self.file, head.span.start, max(end, head.span.end))
        if isinstance(head, Line | Use | Typical | For):
            return replace(head, block=block, span=span)
        return Line((), (self._salvaged(head.span.start, head.span.end),), block, span, unreadable=True)

    def _add(self, statement: Statement) -> None:
        (self.stack[-1].statements if self.stack else self.top).append(statement)

    # --- one statement ------------------------------------------------------------------------------------------------

    def _read(self, start: int, end: int, is_head: bool, line: int) -> Statement:
        """The statement in `[start, end)`; unreadable, with a finding, when it does not parse."""
        from lark.exceptions import UnexpectedInput

        source = self.text[start:end]
        builder = Builder(self.file, start - 1)
        finding: Finding | None = None
        if line in self.silent:
            return self._unreadable(start, end)
        try:
            tree = self.parse("\n" + source + ("{}" if is_head else "") + "\n", start="alone")
        except UnexpectedInput as error:
            finding = explain(source, self.file, start, self._subject(start, end)) or expected_instead(
                error, source, self.file, start, self._subject(start, end)
            )
        else:
            statement = builder.file_statements(tree)[0]
            finding = self._doubt(builder, statement, source, start, end)
            if finding is None:
                return statement
        self.findings.append(finding)
        return self._unreadable(start, end)

    def _doubt(self, builder: Builder, statement: Statement, source: str, start: int, end: int) -> Finding | None:
        if builder.errors:
            span, error = builder.errors[0]
            return Finding(
                "invalid-arithmetic",
                Severity.ERROR,
                self._subject(start, end),
                error.message,
                span,
                label="here",
                help=error.help,
            )
        misplaced = isinstance(statement, Version) and (self.stack or self.top)
        if builder.doubts or misplaced:
            return explain(source, self.file, start, self._subject(start, end))
        return None

    def _unreadable(self, start: int, end: int) -> Line:
        end = max(end, start + 1)
        return Line((), (self._salvaged(start, end),), None, Span(self.file, start, end), unreadable=True)

    def _salvaged(self, start: int, end: int) -> Run:
        """The words (and texts) at the start of a statement, up to the first thing that is neither."""
        parts: list[Word | Text] = []
        at = start
        while len(parts) < _MOST_WORDS and (match := _WORDS.match(self.text, at, end)):
            word = match["word"]
            if word is not None:
                parts.append(Word((word,), Span(self.file, match.start("word"), match.end("word"))))
            else:
                raw = match["text"].replace('\\"', '"').replace("\\\\", "\\")
                span = Span(self.file, match.start("text") - 1, match.end("text") + 1)
                parts.append(Text((raw,) if raw else (), span))
            at = match.end()
        if not parts:
            parts.append(Word((self.text[start:end].strip().split()[0],), Span(self.file, start, end)))
        return Run(tuple(parts), Span(self.file, parts[0].span.start, parts[-1].span.end))

    # --- findings -----------------------------------------------------------------------------------------------------

    def _words(self, start: int, end: int) -> str:
        """The words at the start of a statement, before any text: `panelboard LP1`."""
        words = []
        for part in self._salvaged(start, max(end, start + 1)).parts[:3]:
            if isinstance(part, Word):
                words.append(part.text)
            else:
                break
        return " ".join(words)

    def _subject(self, start: int, end: int) -> str:
        """The heads around a statement, or its own words at the top level."""
        if not self.stack:
            return self._words(start, end)
        head = self.stack[-1].head
        return self._words(head.span.start, head.span.end)

    def _brace_finding(self, fault: Fault, piece: Piece) -> Finding:
        start, end = piece.start, piece.end
        sign = Span(self.file, end - 1, end)
        subject = self._words(start, end - 1) if piece.kind is not Kind.CLOSE else ""
        say: Callable[..., Finding] = _brace(subject, sign)
        if fault is Fault.NOT_CLOSED:
            return say("the block is not closed", "no `}` belongs to it", "close it with `}` after its last line")
        remove = Fix("remove it", (Edit(sign, ""),), safe=False)
        if fault is Fault.OPENS_NOTHING:
            help = "remove it, or close it with `}`"
            return say("`{` opens a block that holds nothing", "no `}` belongs to it", help, remove)
        if fault is Fault.NOT_OPENED:
            after = Span(self.file, end, end)
            fix = Fix("write `{`", (Edit(after, " {"),), safe=False)
            return say("the block is not opened", "no `{` after it", "write `{` at the end of this line", fix)
        help = "remove it, or write the `{` that it should close"
        return say("`}` closes nothing", "no `{` belongs to it", help, remove)


def _brace(subject: str, span: Span) -> Callable[..., Finding]:
    def say(message: str, label: str, help: str, fix: Fix | None = None) -> Finding:
        return Finding("invalid-braces", Severity.ERROR, subject, message, span, label=label, help=help, fix=fix)

    return say

