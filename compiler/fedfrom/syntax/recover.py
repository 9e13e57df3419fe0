"""Reading a file that did not parse: every statement alone, braces mended, the rest of the tree kept.

A statement that cannot be read stays in the tree as a `Line` with `unreadable=True` and the words at its start, so
that its tag is still known to whoever refers to it. A head that cannot be read keeps its block.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from fedfrom.findings import Edit, Finding, Fix, Severity
from fedfrom.source import Span
from fedfrom.syntax.braces import Fault, Step, mend
from fedfrom.syntax.scan import Kind, Piece, mask, scan
from fedfrom.syntax.statement import read_statement, read_whole, unreadable
from fedfrom.syntax.tree import Block, For, Line, Statement, Typical, Use

#: Statements that stand only at the top level: evidence for a missing `}` in a file without indentation.
_ONLY_AT_TOP = re.compile(
    r"(?:fedfrom|project|defaults|include|typical|utility|room|tie|interlock|state|noncoincident|catalog|accept|expect)\b"
)
_FEED = re.compile(r"(?:\w+ from|connects to)\b")
_EXPANDED = re.compile(r"(?:for|use|typical)\b")
_WORDS = re.compile(r"[ \t]*[\w\[][\w.\-/\[\]]*(?:[ \t]+[\w\[][\w.\-/\[\]]*){0,3}")


@dataclass(slots=True)
class _Open:
    """A block that is being filled: its head and what it holds so far."""

    head: Statement
    start: int
    is_stray: bool
    statements: list[Statement] = field(default_factory=list)


def recover(
    text: str, file: str, distrusted: frozenset[int], *, by_blocks: bool = True
) -> tuple[tuple[Statement, ...], list[Finding]]:
    """The statements of a text and what is wrong with it.

    `text` has no character that the language does not use (`characters.clean`); on the lines in `distrusted` (from 0)
    something was lost in cleaning and told already, so that what stands there is unreadable without a second finding.
    `by_blocks`: read a statement of the top level with its block in one go where that is possible; it makes no
    difference to what is read.
    """
    return _Recovery(text, file, distrusted, by_blocks).run()


class _Recovery:
    def __init__(self, text: str, file: str, distrusted: frozenset[int], by_blocks: bool) -> None:
        self.text = text
        self.file = file
        self.silent = set(distrusted)
        self.by_blocks = by_blocks
        self.told: set[int] = set()
        self.findings: list[Finding] = []
        self.stack: list[_Open] = []
        self.top: list[Statement] = []

    def run(self) -> tuple[tuple[Statement, ...], list[Finding]]:
        pieces = self._join_heads(scan(self.text))
        top_level = frozenset(i for i, piece in enumerate(pieces) if _ONLY_AT_TOP.match(self.text, piece.start))
        mended = mend(pieces, top_level)
        stray = set()
        for fault, piece in mended.faults:
            self.findings.append(self._brace_finding(fault, piece))
            self.told.add(piece.line)
            if fault is Fault.OPENS_NOTHING:
                stray.add(piece)
            if fault is Fault.CLOSES_NOTHING:
                self.silent.add(piece.line)
        self._find_glued(pieces)
        self._find_continued(pieces)
        self._take_all(mended.steps, stray)
        return tuple(self.top), self.findings

    def _take_all(self, steps: Sequence[Step], stray: set[Piece]) -> None:
        """Every step, the statements of the top level as wholes where nothing is known to be wrong with them."""
        at = 0
        while at < len(steps):
            end = _end_of_statement(steps, at)
            whole = self._whole(steps[at : end + 1]) if self.by_blocks else None
            if whole is not None:
                self.top.append(whole)
            else:
                for step in steps[at : end + 1]:
                    self._take(step, stray)
            at = end + 1

    def _whole(self, steps: Sequence[Step]) -> Statement | None:
        first, last = steps[0].piece, steps[-1].piece
        if first is None or last is None or len(steps) < 3:
            return None
        for step in steps:
            if step.piece is None or step.piece.line in self.silent or step.piece.line in self.told:
                return None
        return read_whole(self.text, self.file, first.start, last.end)

    # --- structure ----------------------------------------------------------------------------------------------------

    def _join_heads(self, pieces: list[Piece]) -> list[Piece]:
        """A `{` on a line of its own belongs to the line before it, which is told."""
        joined: list[Piece] = []
        for piece in pieces:
            bare = piece.kind is Kind.HEAD and piece.end == piece.start + 1
            if bare and piece.first and joined and joined[-1].kind is Kind.LINE:
                head = joined.pop()
                self.told.add(head.line)
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

    def _find_continued(self, pieces: list[Piece]) -> None:
        """Lines that were meant to go on with the line before, which alone is told.

        A deeper line after a line that ends in a comma; a line that closes the text that the line before opened.
        """
        for before, piece in pairwise(pieces):
            if not piece.first or piece.kind is Kind.CLOSE or before.kind is Kind.CLOSE:
                continue
            at_comma = self.text[before.end - 1] == "," and piece.indent > before.indent
            in_text = piece.line == before.line + 1 and self._is_unclosed(before) and self._is_unclosed(piece)
            if at_comma or in_text:
                self.silent.add(piece.line)

    def _is_unclosed(self, piece: Piece) -> bool:
        """Whether a text of the piece is not closed."""
        return '"' in self.text[piece.start : piece.end] and '"' in mask(self.text[piece.start : piece.end])

    def _take(self, step: Step, stray: set[Piece]) -> None:
        piece = step.piece
        if step.kind is Kind.CLOSE:
            self._close(piece)
            return
        assert piece is not None
        end = piece.end - 1 if self.text[piece.end - 1] == "{" else piece.end
        end = piece.start + len(self.text[piece.start : end].rstrip())
        is_head = step.kind is Kind.HEAD and piece not in stray
        statement = self._read(piece.start, end, is_head, piece.line)
        if step.kind is Kind.HEAD:
            self.stack.append(_Open(statement, piece.end - 1, piece in stray))
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
        if done.is_stray and not done.statements:
            return head
        block = Block(tuple(done.statements), Span(self.file, min(done.start, end), end))
        span = Span(self.file, head.span.start, max(end, head.span.end))
        if isinstance(head, Line) and head.unreadable and _EXPANDED.match(self.text, head.span.start):
            # What a `for`, `use` or `typical` would bind is not known, so that its lines can say nothing.
            return replace(head, block=Block((), block.span), span=span)
        if isinstance(head, Line | Use | Typical | For):
            return replace(head, block=block, span=span)
        return replace(unreadable(self.text, self.file, head.span.start, head.span.end), block=block, span=span)

    def _add(self, statement: Statement) -> None:
        (self.stack[-1].statements if self.stack else self.top).append(statement)

    # --- one statement ------------------------------------------------------------------------------------------------

    def _read(self, start: int, end: int, is_head: bool, line: int) -> Statement:
        first = not self.top and not self.stack
        read = read_statement(
            self.text,
            self.file,
            start,
            end,
            is_head=is_head,
            may_be_version=first,
            subject=self._subject(start, end),
        )
        if line in self.silent:
            keep = read.finding is None and not isinstance(read.statement, Line)
            return read.statement if keep else unreadable(self.text, self.file, start, end)
        if read.finding is not None:
            self.findings.append(read.finding)
        return read.statement

    # --- findings -----------------------------------------------------------------------------------------------------

    def _words(self, start: int, end: int) -> str:
        """The words at the start of a statement, before any text or comma: `panelboard LP1`."""
        match = _WORDS.match(self.text, start, end)
        return " ".join(match[0].split()) if match else ""

    def _subject(self, start: int, end: int) -> str:
        """The head around a statement (for a feed's block, what is fed), or its own words at the top level."""
        for block in reversed(self.stack):
            words = self._words(block.head.span.start, block.start)
            if words and not _FEED.match(words):
                return words
        return self._words(start, end)

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


def _end_of_statement(steps: Sequence[Step], start: int) -> int:
    """The index of the last step of the statement that starts at `start`."""
    depth = 0
    for index in range(start, len(steps)):
        depth += {Kind.HEAD: 1, Kind.CLOSE: -1, Kind.LINE: 0}[steps[index].kind]
        if depth == 0:
            return index
    return len(steps) - 1


def _brace(subject: str, span: Span) -> Callable[..., Finding]:
    def say(message: str, label: str, help: str, fix: Fix | None = None) -> Finding:
        return Finding("invalid-braces", Severity.ERROR, subject, message, span, label=label, help=help, fix=fix)

    return say
