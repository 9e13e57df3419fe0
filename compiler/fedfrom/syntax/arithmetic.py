"""What stands inside `[ ]`: text -> `Expr`."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from fedfrom.source import Span
from fedfrom.syntax.grammar import arithmetic_parser
from fedfrom.syntax.tree import BinaryExpr, Expr, NameExpr, NumberExpr, UnaryExpr

if TYPE_CHECKING:
    from lark import Token

#: A splice longer than this is refused before it is read, so that no reader of the tree ever meets a deep one.
LONGEST_SPLICE = 200

_ENDS = {"$END", "CLOSE"}


class SpliceError(Exception):
    """A splice that cannot be read. `start` and `end` count from the start of the splice's inner text."""

    def __init__(self, message: str, help: str, start: int, end: int) -> None:
        super().__init__(message)
        self.message = message
        self.help = help
        self.start = start
        self.end = end


def read_arithmetic(inner: str, file: str, offset: int) -> Expr:
    """The expression in the inner text of a splice that starts at `offset` of `file`.

    Raises SpliceError with a place inside the text.
    """
    from lark.exceptions import UnexpectedCharacters, UnexpectedToken

    if not inner.strip():
        help = "write a parameter in them: `[level]`"
        raise SpliceError("the square brackets hold nothing", help, -1, len(inner) + 1)
    if len(inner) > LONGEST_SPLICE:
        raise SpliceError(
            f"the arithmetic is longer than {LONGEST_SPLICE} characters", "make it shorter", 0, len(inner)
        )
    try:
        tree = arithmetic_parser().parse(inner)
    except UnexpectedCharacters as error:
        raise _bad_character(inner, error.pos_in_stream or 0) from None
    except UnexpectedToken as error:
        raise _bad_token(inner, error.token) from None
    return _expr(tree, file, offset)


def _bad_character(inner: str, at: int) -> SpliceError:
    sign = inner[at]
    if sign == "(":
        before = inner[:at].rstrip()
        return SpliceError("an operator is missing before `(`", f"write `{before} * (`", at, at + 1)
    if sign == "x":
        return SpliceError("`x` is not an operator", "write `*`", at, at + 1)
    if sign == ".":
        help = "write `row.column`, or `0.5`"
        return SpliceError("`.` stands only inside a number or between `row` and a column", help, at, at + 1)
    if sign == ",":
        return SpliceError("square brackets do not hold a list", "write a list in `( )`", at, at + 1)
    return SpliceError(
        f"`{sign}` has no meaning in arithmetic", "use names, numbers with units, `+ - * /` and `( )`", at, at + 1
    )


def _bad_token(inner: str, token: Token) -> SpliceError:
    start = token.start_pos if token.type != "$END" and token.start_pos is not None else len(inner.rstrip())
    end = start + max(len(token), 1) if token.type != "$END" else start + 1
    if token.type == "$END" and inner.count("(") > inner.count(")"):
        at = inner.rindex("(")
        return SpliceError("`(` is not closed", "close it with `)` before the `]`", at, at + 1)
    if token.type in _ENDS or token.type in {"PLUS", "TIMES", "DIVIDE"}:
        if token.type == "CLOSE" and inner[:start].count("(") <= inner[:start].count(")"):
            return SpliceError("`)` closes nothing", "remove it, or write the `(` that it should close", start, end)
        sign = "the end" if token.type == "$END" else f"`{token}`"
        return SpliceError(
            f"a name or a number is missing before {sign}", "write what the operator works on", start, end
        )
    help = f"write one of `+ - * /` before `{token}`"
    return SpliceError(f"an operator is missing before `{token}`", help, start, end)


def _expr(tree: Any, file: str, offset: int) -> Expr:
    children = tree.children
    if tree.data == "group":
        opening, inner, closing = children
        span = Span(file, offset + opening.start_pos, offset + closing.end_pos)
        return replace(_expr(inner, file, offset), span=span)
    if tree.data == "number":
        number, unit = children
        last = unit if unit is not None else number
        span = Span(file, offset + number.start_pos, offset + last.end_pos)
        return NumberExpr(str(number).replace("_", ""), str(unit) if unit is not None else "", span)
    if tree.data == "name":
        name, column = children
        last = column if column is not None else name
        span = Span(file, offset + name.start_pos, offset + last.end_pos)
        return NameExpr(str(name), str(column) if column is not None else "", span)
    if tree.data == "negative":
        operand = _expr(children[1], file, offset)
        return UnaryExpr(operand, Span(file, offset + children[0].start_pos, operand.span.end))
    left = _expr(children[0], file, offset)
    right = _expr(children[2], file, offset)
    return BinaryExpr(str(children[1]), left, right, left.span.to(right.span))
