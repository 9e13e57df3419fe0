"""The syntax tree: frozen nodes with spans.

The same nodes serve before and after expansion: afterwards there is no `Typical`, `For`, `Use` or `Include` left, no
word or text holds a splice, and every `Line` carries the `trail` of the sites that brought it about.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from fedfrom.source import Span

# --- arithmetic inside splices -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class NumberExpr:
    """`13`, `20 ft`, `0.5`: digits as written (underscores removed) and the unit or ""."""

    digits: str
    unit: str
    span: Span


@dataclass(frozen=True, slots=True)
class NameExpr:
    """A parameter, loop variable or `row.column` (then `column` is not "")."""

    name: str
    column: str
    span: Span


@dataclass(frozen=True, slots=True)
class UnaryExpr:
    """Unary minus."""

    operand: Expr
    span: Span


@dataclass(frozen=True, slots=True)
class BinaryExpr:
    """`+ - * /`."""

    operator: str
    left: Expr
    right: Expr
    span: Span


Expr: TypeAlias = NumberExpr | NameExpr | UnaryExpr | BinaryExpr


@dataclass(frozen=True, slots=True)
class Splice:
    """`[ … ]` inside a word or text. `span` takes in the brackets."""

    expr: Expr
    span: Span


# --- values --------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Word:
    """A bare word: tag, name, number, size, system… What it is, is decided by the place that it stands in.

    `segments` are the literal pieces and splices in order; a word without splices has one literal segment.
    """

    segments: tuple[str | Splice, ...]
    span: Span

    @property
    def text(self) -> str:
        """The word's text; only meaningful after expansion (a splice shows as `[…]`)."""
        if len(self.segments) == 1 and isinstance(self.segments[0], str):
            return self.segments[0]
        return "".join(s if isinstance(s, str) else "[…]" for s in self.segments)


@dataclass(frozen=True, slots=True)
class Text:
    """A quoted text; escapes are resolved in the literal segments."""

    segments: tuple[str | Splice, ...]
    span: Span

    @property
    def text(self) -> str:
        """As `Word.text`."""
        if len(self.segments) == 1 and isinstance(self.segments[0], str):
            return self.segments[0]
        return "".join(s if isinstance(s, str) else "[…]" for s in self.segments)


@dataclass(frozen=True, slots=True)
class ListValue:
    """`( value, value )`."""

    values: tuple[Run, ...]
    span: Span


Part: TypeAlias = Word | Text | ListValue


@dataclass(frozen=True, slots=True)
class Run:
    """What stands between two commas: parts in a row."""

    parts: tuple[Part, ...]
    span: Span


# --- statements ----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Site:
    """One step of how a line came about: a `use` or a turn of a `for`, or the row of a CSV file.

    `text` for the reader: "in FloorPanel, level 7".
    """

    span: Span
    text: str


@dataclass(frozen=True, slots=True)
class Block:
    """`{ … }`; `span` takes in the braces."""

    statements: tuple[Statement, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Line:
    """Any statement without a shape of its own: `[positions] run, run, … [block]`.

    A status word may stand before the positions (`new 2,4 equipment …`): it is then the first part of the first run.

    `unreadable` marks a head whose own text failed to parse: it stays, so that nothing that depends on it is
    silently lost; `model` keeps it as unknown and gives no second finding for it.
    """

    positions: tuple[Word, ...]
    runs: tuple[Run, ...]
    block: Block | None
    span: Span
    trail: tuple[Site, ...] = ()
    unreadable: bool = False


@dataclass(frozen=True, slots=True)
class Version:
    """`fedfrom 1`."""

    number: Word
    span: Span


@dataclass(frozen=True, slots=True)
class Include:
    """`include "file.fed"`."""

    path: Text
    span: Span


@dataclass(frozen=True, slots=True)
class Parameter:
    """A parameter of a typical, with its default or None."""

    name: Word
    default: Run | None
    span: Span


@dataclass(frozen=True, slots=True)
class Typical:
    """`typical Name(parameter, parameter = default) { … }`."""

    name: Word
    parameters: tuple[Parameter, ...]
    block: Block
    span: Span


@dataclass(frozen=True, slots=True)
class RangeSource:
    """`2..12`, both ends included."""

    first: Word
    last: Word
    span: Span


@dataclass(frozen=True, slots=True)
class FileSource:
    """`in "units.csv"`: the rows of a CSV file."""

    path: Text
    span: Span


@dataclass(frozen=True, slots=True)
class For:
    """`for name in … { … }`."""

    name: Word
    source: RangeSource | ListValue | FileSource
    block: Block
    span: Span


@dataclass(frozen=True, slots=True)
class Argument:
    """`name: value` in a `use`."""

    name: Word
    value: Run
    span: Span


@dataclass(frozen=True, slots=True)
class Use:
    """`use Name(argument, …) [{ change TAG { … } }]`."""

    name: Word
    arguments: tuple[Argument, ...]
    block: Block | None
    span: Span
    trail: tuple[Site, ...] = ()


@dataclass(frozen=True, slots=True)
class Reference:
    """`LP1.3`, or `LP1 "Break room"`, or a bare tag."""

    word: Word
    text: Text | None
    span: Span


@dataclass(frozen=True, slots=True)
class Accept:
    """`accept rule on reference, … because "…"`."""

    rule: Word
    references: tuple[Reference, ...]
    reason: Text
    span: Span
    trail: tuple[Site, ...] = ()


@dataclass(frozen=True, slots=True)
class Expect:
    """`expect value compare value`."""

    left: Run
    compare: str
    right: Run
    span: Span
    trail: tuple[Site, ...] = ()


Statement: TypeAlias = Line | Version | Include | Typical | For | Use | Accept | Expect


@dataclass(frozen=True, slots=True)
class Tree:
    """One file, or after expansion the whole project (then `file` is the root file)."""

    file: str
    statements: tuple[Statement, ...]
