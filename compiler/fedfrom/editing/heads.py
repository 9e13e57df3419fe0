"""The heads of the statements with a shape of their own."""

from __future__ import annotations

from collections.abc import Sequence

from fedfrom.editing.pieces import Pieces
from fedfrom.syntax.tree import (
    Accept,
    Argument,
    Expect,
    FileSource,
    For,
    Include,
    ListValue,
    Parameter,
    RangeSource,
    Reference,
    Statement,
    Typical,
    Use,
    Version,
)

INDENT = 4


def head_of(statement: Statement, pieces: Pieces, room: int) -> list[str]:
    """The lines of a head. What stands in round brackets is on one line if `room` allows it, else an element a line."""
    match statement:
        case Version():
            return [f"fedfrom {pieces.word(statement.number)}"]
        case Include():
            return [f"include {pieces.word(statement.path)}"]
        case Accept():
            on = ", ".join(_reference(reference, pieces) for reference in statement.references)
            return [f"accept {pieces.word(statement.rule)} on {on} because {pieces.word(statement.reason)}"]
        case Expect():
            return [f"expect {pieces.run(statement.left)} {statement.compare} {pieces.run(statement.right)}"]
        case Typical():
            parameters = [_parameter(parameter, pieces) for parameter in statement.parameters]
            return bracketed(f"typical {pieces.word(statement.name)}", parameters, room)
        case Use():
            arguments = [_argument(argument, pieces) for argument in statement.arguments]
            return bracketed(f"use {pieces.word(statement.name)}", arguments, room)
        case For():
            return _for(statement, pieces, room)
    raise TypeError(f"a {type(statement).__name__} has no head of this kind")


def bracketed(before: str, elements: Sequence[str], room: int) -> list[str]:
    """`before(a, b)` on one line, or an element a line with a comma after each."""
    line = f"{before}({', '.join(elements)})"
    if len(line) <= room or not elements:
        return [line]
    return [f"{before}(", *(f"{' ' * INDENT}{element}," for element in elements), ")"]


def _for(statement: For, pieces: Pieces, room: int) -> list[str]:
    start = f"for {pieces.word(statement.name)} in "
    match statement.source:
        case RangeSource(first=first, last=last):
            return [f"{start}{pieces.word(first)}..{pieces.word(last)}"]
        case FileSource(path=path):
            return [start + pieces.word(path)]
        case ListValue(values=values):
            return bracketed(start, [pieces.run(value) for value in values], room)


def _parameter(parameter: Parameter, pieces: Pieces) -> str:
    name = pieces.word(parameter.name)
    return name if parameter.default is None else f"{name} = {pieces.run(parameter.default)}"


def _argument(argument: Argument, pieces: Pieces) -> str:
    return f"{pieces.word(argument.name)}: {pieces.run(argument.value)}"


def _reference(reference: Reference, pieces: Pieces) -> str:
    word = pieces.word(reference.word)
    return word if reference.text is None else f"{word} {pieces.word(reference.text)}"
