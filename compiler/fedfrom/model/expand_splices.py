"""Puts values in the place of brackets, in words, texts, positions, lists and runs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from fedfrom.findings import Finding, Label, Severity
from fedfrom.model.expand_lines import head_text
from fedfrom.model.expand_values import WORD, Given, Scope, given_here, has_unit, is_unit_name, shows_exactly
from fedfrom.source import Span
from fedfrom.syntax.tree import (
    Accept,
    Expect,
    Line,
    ListValue,
    Part,
    Reference,
    Run,
    Splice,
    Text,
    Word,
)


def part_has_splice(part: Part) -> bool:
    if isinstance(part, ListValue):
        return any(run_has_splice(run) for run in part.values)
    # The parser joins neighbouring letters, so that several segments mean a splice among them.
    segments = part.segments
    return len(segments) > 1 or (len(segments) == 1 and not isinstance(segments[0], str))


def run_has_splice(run: Run) -> bool:
    return any(map(part_has_splice, run.parts))


def head_has_splice(line: Line) -> bool:
    """Whether anything of a line but its block holds brackets."""
    return any(part_has_splice(position) for position in line.positions) or any(
        run_has_splice(run) for run in line.runs
    )


@dataclass
class Splicer:
    """Replaces brackets by the values of `scope`. `failed` tells that a finding was given; then `[…]` stands there.

    `about` is what the findings are about: their subject, or the line.
    """

    scope: Scope
    report: Callable[[Finding], None]
    about: str | Line
    failed: bool = False

    @property
    def subject(self) -> str:
        return self.about if isinstance(self.about, str) else head_text(self.about).partition(",")[0]

    def line(self, line: Line) -> Line:
        """A line's positions and runs; the block is not touched. A line that failed is marked as unreadable."""
        positions = tuple([self._position(word) for word in line.positions]) if line.positions else ()
        runs = tuple([self.run(run) for run in line.runs])
        if not self.failed:
            self._options_need_units(line)
        return Line(positions, runs, line.block, line.span, line.trail, line.unreadable or self.failed)

    def accept(self, accept: Accept) -> Accept:
        references = tuple([self._reference(reference) for reference in accept.references])
        return replace(accept, references=references, reason=self._text(accept.reason))

    def expect(self, expect: Expect) -> Expect:
        return replace(expect, left=self.run(expect.left), right=self.run(expect.right))

    def run(self, run: Run) -> Run:
        if not run_has_splice(run):
            return run
        parts: list[Part] = []
        for index, part in enumerate(run.parts):
            after = run.parts[index + 1] if index + 1 < len(run.parts) else None
            parts.extend(self._part(part, after))
        return Run(tuple(parts), run.span)

    def value(self, splice: Splice) -> Given | None:
        """The value of a pair of brackets, None (and a finding) where it has none."""
        value = self.scope.value(splice.expr)
        if isinstance(value, Finding):
            self._fail(replace(value, subject=value.subject or self.subject))
            return None
        return value

    def word(self, word: Word) -> Word:
        """A word in a place for one word: `LP-[level]`, `[first]` before `..`."""
        if not part_has_splice(word):
            return word
        pieces: list[str] = []
        for segment in word.segments:
            if isinstance(segment, str):
                pieces.append(segment)
                continue
            piece = self._piece(segment)
            if piece is None:
                return Word(("[…]",), word.span)
            pieces.append(piece)
        made = "".join(pieces)
        if WORD.fullmatch(made) is None:
            message = f"the brackets make `{made}`, which is not a word of the language"
            advice = "a word has letters and digits, with single `-`, `.` or `/` between them"
            self._fail(self._finding("splice-word", message, word.span, advice))
            return Word(("[…]",), word.span)
        return Word((made,), word.span)

    # --- parts ---------------------------------------------------------------------------------------------------

    def _part(self, part: Part, after: Part | None) -> tuple[Part, ...]:
        if not part_has_splice(part):
            return (part,)
        if isinstance(part, Text):
            return (self._text(part),)
        if isinstance(part, ListValue):
            return (ListValue(tuple([self.run(run) for run in part.values]), part.span),)
        if len(part.segments) > 1:
            return (self.word(part),)
        return self._alone(part, after)

    def _alone(self, word: Word, after: Part | None) -> tuple[Part, ...]:
        """`[run]` as a word of its own stands for the whole value, whatever it has of words."""
        splice = word.segments[0]
        assert isinstance(splice, Splice)
        value = self.value(splice)
        if value is None:
            return (Word(("[…]",), word.span),)
        if isinstance(after, Word) and is_unit_name(after.text) and has_unit(value):
            message = f"`{value.text}` has its unit, and `{after.text}` follows"
            related = given_here(value)
            advice = "leave the unit after the brackets out, or give a plain number"
            self._fail(self._finding("splice-unit", message, word.span.to(after.span), advice, related))
            return (Word(("[…]",), word.span),)
        return tuple([replace(part, span=word.span) for part in value.parts])

    def _text(self, text: Text) -> Text:
        if not part_has_splice(text):
            return text
        pieces: list[str] = []
        for segment in text.segments:
            if isinstance(segment, str):
                pieces.append(segment)
                continue
            value = self.value(segment)
            if value is not None and not shows_exactly(value):
                self._fail(self._endless(value, segment.span))
                value = None
            pieces.append("[…]" if value is None else value.text)
        return Text(("".join(pieces),), text.span)

    def _piece(self, splice: Splice) -> str | None:
        """A value as a piece of a word: one word, no unit."""
        value = self.value(splice)
        if value is None:
            return None
        if not shows_exactly(value):
            self._fail(self._endless(value, splice.span))
            return None
        if len(value.parts) > 1 or " " in value.text:
            if has_unit(value):
                message = f"`{value.text}` has a unit and cannot be part of a word"
                advice = "leave the unit after the brackets out, or give a plain number"
            else:
                message = f"`{value.text}` is more than one word and cannot be part of one"
                advice = "give one word, without blanks"
            related = given_here(value)
            self._fail(self._finding("splice-word", message, splice.span, advice, related))
            return None
        return value.text

    def _position(self, word: Word) -> Word:
        made = self.word(word)
        if made is not word and not self.failed and not (made.text.isdigit() and int(made.text) > 0):
            message = f"`{made.text}` is not a position: positions are whole numbers from 1"
            self._fail(self._finding("splice-position", message, word.span, ""))
        return made

    def _reference(self, reference: Reference) -> Reference:
        text = None if reference.text is None else self._text(reference.text)
        return replace(reference, word=self.word(reference.word), text=text)

    def _options_need_units(self, line: Line) -> None:
        """`fed from T-R, [run]` with a plain number: after a comma a number alone is nothing but a further position."""
        before = ""
        for run in line.runs:
            first = run.parts[0]
            if not isinstance(first, Word):
                continue
            segment = first.segments[0]
            is_lone = len(run.parts) == 1 and len(first.segments) == 1 and not isinstance(segment, str)
            if is_lone and run is not line.runs[0] and before != "position":
                self._needs_unit(segment, run)
            elif not first.text.isdigit():
                before = first.text

    def _needs_unit(self, segment: str | Splice, run: Run) -> None:
        value = self.value(segment) if isinstance(segment, Splice) else None
        if value is not None and value.quantity() is not None and not has_unit(value):
            message = f"`{value.text}` is a plain number, and a quantity is needed here"
            advice = "write the unit after the brackets, as in `[run] ft`, or give the value with its unit"
            self._fail(self._finding("splice-unit", message, run.span, advice, given_here(value)))

    # --- findings ------------------------------------------------------------------------------------------------

    def _endless(self, value: Given, span: Span) -> Finding:
        assert value.computed is not None
        message = f"{value.computed.value} has no end as a decimal, so it cannot stand in a word or a text"
        return self._finding("splice-word", message, span, "choose numbers that divide evenly", given_here(value))

    def _finding(self, rule: str, message: str, span: Span, advice: str, related: tuple[Label, ...] = ()) -> Finding:
        return Finding(rule, Severity.ERROR, self.subject, message, span, "", related, (), advice)

    def _fail(self, finding: Finding) -> None:
        self.failed = True
        self.report(finding)
