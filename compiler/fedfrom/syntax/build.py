"""Lark's tree -> our frozen nodes. Spans come from the tokens, never from rule metadata.

What parses and still cannot be meant (`11,500 ft2` reads as two values) is a *doubt*: the caller looks at such a
statement with the table of mistakes.
"""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from fedfrom.source import Span
from fedfrom.syntax.arithmetic import SpliceError, read_arithmetic
from fedfrom.syntax.tree import (
    Accept,
    Argument,
    Block,
    Expect,
    FileSource,
    For,
    Include,
    Line,
    ListValue,
    Parameter,
    Part,
    RangeSource,
    Reference,
    Run,
    Splice,
    Statement,
    Text,
    Typical,
    Use,
    Version,
    Word,
)

if TYPE_CHECKING:
    from lark import Token, Tree

_SPLICE = re.compile(r"\[([^\[\]]*)\]")
_IN_TEXT = re.compile(r"\[\[|\]\]|\\.|\[([^\[\]]*)\]|[\[\]]")
_STATUS = frozenset({"new", "existing", "relocated", "future", "demolish"})
_POSITION = re.compile(r"\d+|\[[^\]]*\]")
_TIMES = re.compile(r"x\d+|\d+x\d+")


class Builder:
    """Turns the parser's trees of one file into nodes.

    `offset` is what has to be added to the parser's positions to get those of the file. After a build, `errors` holds
    the splices that could not be read (with places in the file) and `doubts` the spans of doubtful statements.
    """

    def __init__(self, file: str, offset: int) -> None:
        self.file = file
        self.offset = offset
        self.errors: list[tuple[Span, SpliceError]] = []
        self.doubts: list[Span] = []

    def file_statements(self, tree: Tree[Token]) -> tuple[Statement, ...]:
        """The statements of start rule `file` (or `alone`)."""
        return tuple([self.statement(child) for child in tree.children])

    def statement(self, tree: Any) -> Statement:
        made: Statement = getattr(self, "_" + tree.data)(tree.children)
        return made

    # --- the seven statements with a shape of their own ---------------------------------------------------------------

    def _version(self, children: list[Any]) -> Version:
        keyword, word = children
        number = self._word(word)
        span = self._span(keyword).to(number.span)
        if not number.text.isdigit():
            self.doubts.append(span)
        return Version(number, span)

    def _include(self, children: list[Any]) -> Include:
        keyword, text = children
        path = self._text(text)
        return Include(path, self._span(keyword).to(path.span))

    def _typical(self, children: list[Any]) -> Typical:
        keyword, name, _, *parameters, _, block = children
        body = self._block(block)
        return Typical(
            self._word(name),
            tuple([self._parameter(parameter.children) for parameter in parameters]),
            body,
            self._span(keyword).to(body.span),
        )

    def _parameter(self, children: list[Any]) -> Parameter:
        word, compare, value = children
        name = self._word(word)
        if value is None:
            return Parameter(name, None, name.span)
        default = self._run(value.children)
        span = name.span.to(default.span)
        if compare != "=":
            self.doubts.append(span)
        return Parameter(name, default, span)

    def _for_each(self, children: list[Any]) -> For:
        keyword, name, source, block = children
        body = self._block(block)
        return For(self._word(name), self._source(source), body, self._span(keyword).to(body.span))

    def _source(self, node: Any) -> RangeSource | ListValue | FileSource:
        data = getattr(node, "data", None)
        if data == "list":
            return self._list(node.children)
        if data == "range":
            first, last = node.children
            start, end = self._word(first), self._word(last)
            return RangeSource(start, end, start.span.to(end.span))
        path = self._text(node)
        return FileSource(path, path.span)

    def _use(self, children: list[Any]) -> Use:
        keyword, name, _, *arguments, close, block = children
        body = self._block(block) if block is not None else None
        last = body.span if body is not None else self._span(close)
        return Use(
            self._word(name),
            tuple([self._argument(argument.children) for argument in arguments]),
            body,
            self._span(keyword).to(last),
        )

    def _argument(self, children: list[Any]) -> Argument:
        word, run = children
        name, value = self._word(word), self._run(run.children)
        return Argument(name, value, name.span.to(value.span))

    def _accept(self, children: list[Any]) -> Accept:
        keyword, rule, *references, text = children
        reason = self._text(text)
        return Accept(
            self._word(rule),
            tuple([self._reference(reference.children) for reference in references]),
            reason,
            self._span(keyword).to(reason.span),
        )

    def _reference(self, children: list[Any]) -> Reference:
        word, text = children
        tag = self._word(word)
        if text is None:
            return Reference(tag, None, tag.span)
        name = self._text(text)
        return Reference(tag, name, tag.span.to(name.span))

    def _expect(self, children: list[Any]) -> Expect:
        keyword, left, compare, right = children
        end = self._run(right.children)
        return Expect(self._run(left.children), str(compare), end, self._span(keyword).to(end.span))

    # --- every other line ---------------------------------------------------------------------------------------------

    def _line(self, children: list[Any]) -> Line:
        status, places, *rest = children
        block = self._block(rest[-1]) if rest[-1] is not None else None
        runs = [self._run(run.children) for run in rest[:-1]]
        first = runs[0].span
        positions = self._positions(places) if places is not None else ()
        if positions:
            first = positions[0].span
        elif self._starts_like_positions(runs) or _status_and_number(runs):
            self.doubts.append(first)
        if status is not None:
            word = self._word(status)
            first = word.span
            runs[0] = Run((word, *runs[0].parts), word.span.to(runs[0].span))
        last = block.span if block is not None else runs[-1].span
        span = first.to(last)
        if any(map(_reads_as_times, runs)) or (len(runs) > 1 and _thousands(runs)) or (block and _reads_as_for(runs)):
            self.doubts.append(span)
        return Line(positions, tuple(runs), block, span)

    def _positions(self, token: Token) -> tuple[Word, ...]:
        words = []
        start = self.offset + (token.start_pos or 0)
        for piece in _POSITION.findall(token):
            span = Span(self.file, start, start + len(piece))
            words.append(Word(self._segments(piece, start) if "[" in piece else (piece,), span))
            start = span.end + 1
        return tuple(words)

    @staticmethod
    def _starts_like_positions(runs: list[Run]) -> bool:
        """A statement that starts with a number, or with a splice alone, was meant to start with positions."""
        part = runs[0].parts[0]
        if not isinstance(part, Word) or not part.segments:
            return isinstance(part, ListValue)
        segment = part.segments[0]
        if isinstance(segment, str):
            return segment[0].isdigit() or segment[0] in "-%"
        return len(part.segments) == 1 and len(runs[0].parts) == 1 and len(runs) > 1

    # --- values -------------------------------------------------------------------------------------------------------

    def _run(self, children: list[Any]) -> Run:
        parts: list[Part] = []
        for child in children:
            kind = getattr(child, "type", None)
            if kind == "WORD":
                parts.append(self._word(child))
            elif kind == "TEXT":
                parts.append(self._text(child))
            else:
                parts.append(self._list(child.children))
        return Run(tuple(parts), Span(self.file, parts[0].span.start, parts[-1].span.end))

    def _list(self, children: list[Any]) -> ListValue:
        opening, *runs, closing = children
        return ListValue(tuple([self._run(run.children) for run in runs]), self._span(opening).to(self._span(closing)))

    def _block(self, tree: Any) -> Block:
        opening, *statements, closing = tree.children
        inner = tuple([self.statement(statement) for statement in statements])
        for statement in inner:
            if isinstance(statement, Version):
                self.doubts.append(statement.span)
        return Block(inner, Span(self.file, self.offset + opening.start_pos, self.offset + closing.end_pos))

    def _word(self, token: Token) -> Word:
        span = self._span(token)
        text = str(token)
        return Word(self._segments(text, span.start) if "[" in text else (text,), span)

    def _segments(self, text: str, start: int) -> tuple[str | Splice, ...]:
        segments: list[str | Splice] = []
        done = 0
        for match in _SPLICE.finditer(text):
            if match.start() > done:
                segments.append(text[done : match.start()])
            segments.extend(self._splice(match[1], start + match.start()))
            done = match.end()
        if done < len(text):
            segments.append(text[done:])
        return tuple(segments)

    def _text(self, token: Token) -> Text:
        span = self._span(token)
        raw = token[1:-1]
        if "[" not in raw and "]" not in raw and "\\" not in raw:
            return Text((str(raw),) if raw else (), span)
        return Text(self._text_segments(raw, span.start + 1), span)

    def _text_segments(self, raw: str, start: int) -> tuple[str | Splice, ...]:
        segments: list[str | Splice] = []
        literal = ""
        done = 0
        for match in _IN_TEXT.finditer(raw):
            literal += raw[done : match.start()]
            done = match.end()
            found = match[0]
            if found in {"[[", "]]"} or found[0] == "\\":
                literal += found[1]
            elif match[1] is not None:
                if literal:
                    segments.append(literal)
                literal = ""
                segments.extend(self._splice(match[1], start + match.start()))
            else:
                self._lone_bracket(found, start + match.start())
        literal += raw[done:]
        if literal:
            segments.append(literal)
        return tuple(segments)

    def _splice(self, inner: str, start: int) -> list[Splice]:
        """The splice at `start`; none, and an entry in `errors`, when it cannot be read."""
        try:
            expr = read_arithmetic(inner, self.file, start + 1)
        except SpliceError as error:
            self.errors.append((Span(self.file, start + 1 + error.start, start + 1 + error.end), error))
            return []
        return [Splice(expr, Span(self.file, start, start + len(inner) + 2))]

    def _lone_bracket(self, sign: str, at: int) -> None:
        what = "is not closed in this text" if sign == "[" else "closes nothing in this text"
        help = f"write `{sign}{sign}` for a bracket, or `[name]` for a parameter"
        error = SpliceError(f"`{sign}` {what}", help, 0, 1)
        self.errors.append((Span(self.file, at, at + 1), error))

    def _span(self, token: Token) -> Span:
        # The parser always sets both; the library's types allow None.
        return Span(self.file, self.offset + token.start_pos, self.offset + token.end_pos)  # type: ignore[operator]


def _status_and_number(runs: list[Run]) -> bool:
    """`new 2, 4 equipment …`: a status and a number alone before a comma."""
    parts = runs[0].parts
    if len(runs) < 2 or len(parts) != 2 or not isinstance(parts[0], Word) or not isinstance(parts[1], Word):
        return False
    return parts[0].text in _STATUS and parts[1].text.isdigit()


def _thousands(runs: list[Run]) -> bool:
    """`11,500 ft2`: a comma without a blank between one to three digits and exactly three."""
    for before, after in pairwise(runs):
        if after.span.start != before.span.end + 1:
            continue
        left, right = before.parts[-1], after.parts[0]
        if isinstance(left, Word) and isinstance(right, Word) and len(before.parts) + len(after.parts) > 2:
            digits, group = left.text, right.text
            named = isinstance(before.parts[0], Word) and before.parts[0].text == "position"
            if digits.isdigit() and len(digits) <= 3 and len(group) == 3 and group.isdigit() and not named:
                return True
    return False


def _reads_as_for(runs: list[Run]) -> bool:
    """`fro row in "units.csv" { … }`, `fro n in (1, 2) { … }`: the reserved word misspelt."""
    parts = runs[0].parts
    if len(runs) != 1 or len(parts) != 4 or isinstance(parts[3], Word):
        return False
    return isinstance(parts[2], Word) and parts[2].text == "in"


def _reads_as_times(run: Run) -> bool:
    """`1/2 hp x4`, `18x12 ft`: an `x` glued to a number, where another number shows that no tag is meant."""
    if len(run.parts) < 2:
        return False
    words = [part.text for part in run.parts if isinstance(part, Word)]
    glued = [word for word in words if "x" in word and _TIMES.fullmatch(word)]
    if not glued:
        return False
    return any(word[0] != "x" for word in glued) or any(word[:1].isdigit() for word in words[:-1])
