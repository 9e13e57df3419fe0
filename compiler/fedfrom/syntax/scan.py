"""The structural scan: text -> pieces (heads, lines, closings), with no look at what the words mean.

Only used when the whole file did not parse. It never fails: an unclosed text ends at its line, and a round bracket
joins lines only when it is closed before the next brace.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

SPLICE = r"\[[^\[\]{}\"#\r\n]*\]"

#: `{level}` glued to a word, or with nothing but a name or a sum in it: a parameter in the wrong brackets, no block.
_BRACED_PARAMETER = r"(?:(?<=[\w.\-/])\{[^{}\"\r\n]*\}|\{\w[^{}\"\r\n]*\}(?![ \t]*(?:[\r\n#}]|$)))"

_TOKEN = re.compile(
    rf"""(?P<text>"(?:[^"\\\r\n]|\\.)*")
    |(?P<unclosed>"[^\r\n]*)
    |(?P<splice>{SPLICE}|{_BRACED_PARAMETER})
    |(?P<comment>\#[^\r\n]*)
    |(?P<newline>\r?\n)
    |(?P<open>\{{)
    |(?P<close>\}})
    |(?P<bracket>[()])""",
    re.VERBOSE,
)
_AT_LINE_END = re.compile(r"\}[ \t}]*(?:#[^\r\n}]*)?$")
_BAD_ESCAPE = re.compile(r'"(?:[^"\\]|\\["\\])*\\[^"\\]')
_VISIBLE = re.compile(r"[^ \t]")

_COVERS = {
    "text": ("\x02", "\x00", "\x03"),
    "bad text": ("\x06", "\x00", "\x07"),
    "splice": ("\x04", "\x00", "\x05"),
    "unclosed": ('"', "\x00", ""),
    "comment": ("", " ", ""),
}


class Kind(Enum):
    """What a piece of the scan is."""

    HEAD = "head"  # a statement up to and with its `{`
    LINE = "line"  # a statement without a block
    CLOSE = "close"  # a `}`


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of the text, `[start, end)`. `first`: nothing visible stands before it on its line.

    `line` counts from 0; `indent` is the column (from 0) of the first visible character of that line.
    """

    kind: Kind
    start: int
    end: int
    line: int
    indent: int
    first: bool


@dataclass(frozen=True, slots=True)
class _Token:
    kind: str
    start: int
    end: int


def scan(text: str) -> list[Piece]:
    """The pieces of a text, in order. They cover every visible character outside comments."""
    tokens = list(_tokens(text))
    starts = [0, *(token.end for token in tokens if token.kind == "newline")]
    return list(_Scanner(text, tokens, starts).pieces())


def mask(text: str) -> str:
    """The text of a piece with what stands in texts and splices blanked out, same length.

    A closed text becomes \\x02 … \\x03 (\\x06 … \\x07 where it holds a backslash before anything but `"` and another
    backslash) and a splice \\x04 … \\x05; a `"` that is left opens an unclosed text.
    """
    parts: list[str] = []
    done = 0
    for token in _tokens(text):
        if token.kind in _COVERS and text[token.start] != "{":
            bad = token.kind == "text" and _BAD_ESCAPE.match(text, token.start, token.end)
            first, inside, last = _COVERS["bad text" if bad else token.kind]
            length = token.end - token.start
            parts.append(text[done : token.start] + first + inside * (length - len(first + last)) + last)
            done = token.end
    return "".join(parts) + text[done:]


def comment_places(text: str) -> list[tuple[int, int]]:
    """Where each comment starts and where its line ends."""
    return [(token.start, token.end) for token in _tokens(text) if token.kind == "comment"]


def _tokens(text: str) -> Sequence[_Token]:
    found: list[_Token] = []
    at = 0
    while match := _TOKEN.search(text, at):
        kind, start, end = str(match.lastgroup), match.start(), match.end()
        if kind == "unclosed":
            end = _end_of_unclosed(text, start, end)
        if kind == "comment" and text[start + 1 : start + 2].isdigit() and _line_before(text, start).strip():
            at = start + 1
            continue
        found.append(_Token(kind, start, end))
        at = end
    return found


def _end_of_unclosed(text: str, start: int, end: int) -> int:
    """Where an unclosed text is taken to end: at its line end, or before the brace that its line would lack."""
    inside = text[start:end]
    if inside.count("{") > inside.count("}"):
        return start + inside.rindex("{")
    too_many = inside.count("}") - inside.count("{")
    closings = _AT_LINE_END.search(inside)
    if too_many > 0 and closings:
        braces = [start + closings.start() + at for at, sign in enumerate(closings[0]) if sign == "}"]
        return braces[-min(too_many, len(braces))]
    return end


def _line_before(text: str, offset: int) -> str:
    """What stands before an offset on its line."""
    return text[text.rfind("\n", 0, offset) + 1 : offset]


class _Scanner:
    def __init__(self, text: str, tokens: Sequence[_Token], line_starts: list[int]) -> None:
        self.text = text
        self.tokens = tokens
        self.line_starts = line_starts

    def pieces(self) -> Sequence[Piece]:
        made: list[Piece] = []
        begin = 0
        until = -1  # index of the bracket that closes the one we are in
        for index, token in enumerate(self.tokens):
            if index <= until:
                continue
            if token.kind == "bracket" and self.text[token.start] == "(":
                until = self._closing_bracket(index)
            elif token.kind in {"newline", "comment"}:
                self._line(made, begin, token.start)
                begin = token.end
            elif token.kind == "open":
                made.append(self._with_lines_before(made, self._piece(Kind.HEAD, begin, token.end)))
                begin = token.end
            elif token.kind == "close":
                self._line(made, begin, token.start)
                made.append(self._piece(Kind.CLOSE, token.start, token.end))
                begin = token.end
        self._line(made, begin, len(self.text))
        return made

    def _line(self, made: list[Piece], begin: int, end: int) -> None:
        if self.text[begin:end].strip(" \t\r\n"):
            made.append(self._with_lines_before(made, self._piece(Kind.LINE, begin, end)))

    def _with_lines_before(self, made: list[Piece], piece: Piece) -> Piece:
        """A line that starts with a `)` without its `(` takes in the deeper lines before it, up to its own depth."""
        if self.text[piece.start] != ")" or not piece.first:
            return piece
        for back in range(len(made) - 1, -1, -1):
            before = made[back]
            if before.kind is not Kind.LINE or not before.first or before.indent < piece.indent:
                return piece
            if before.indent == piece.indent:
                del made[back:]
                return Piece(piece.kind, before.start, piece.end, before.line, before.indent, True)
        return piece

    def _piece(self, kind: Kind, begin: int, end: int) -> Piece:
        visible = _VISIBLE.search(self.text, begin, end)
        start = visible.start() if visible else begin
        while self.text[end - 1] in " \t\r\n":
            end -= 1
        line = bisect_right(self.line_starts, start) - 1
        on_line = _VISIBLE.search(self.text, self.line_starts[line])
        first = on_line.start() if on_line else start
        return Piece(kind, start, end, line, first - self.line_starts[line], first == start)

    def _closing_bracket(self, index: int) -> int:
        """The index of the last token that belongs to the `(` at `index`; -1 where its line ends unclosed.

        Lines are joined only when every later line is deeper than the first (or starts with the `)`), or the line end
        follows `(` or a comma. Several lines without a `)` belong together up to the `{` of their block.
        """
        depth = 0
        head_indent = self._indent_at(self.tokens[index].start)
        for later in range(index, len(self.tokens)):
            token = self.tokens[later]
            if token.kind == "open":
                return later - 1 if any(between.kind == "newline" for between in self.tokens[index:later]) else -1
            if token.kind in {"close", "unclosed"}:
                return -1
            if token.kind == "newline" and not self._joins(token, head_indent):
                return -1
            if token.kind == "bracket":
                depth += 1 if self.text[token.start] == "(" else -1
                if depth == 0:
                    return later
        return -1

    def _joins(self, newline: _Token, head_indent: int) -> bool:
        before = _line_before(self.text, newline.start).split("#")[0].rstrip()
        following = _VISIBLE.search(self.text, newline.end)
        if following is None:
            return False
        if self.text[following.start()] in ")\r\n#" or before[-1:] in {"(", ","} or not before:
            return True
        return self._indent_at(following.start()) > head_indent

    def _indent_at(self, offset: int) -> int:
        start = self.text.rfind("\n", 0, offset) + 1
        visible = _VISIBLE.search(self.text, start)
        return (visible.start() if visible else offset) - start
