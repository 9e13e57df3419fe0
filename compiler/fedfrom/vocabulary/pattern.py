"""Value patterns: what may stand after a name, in a one-line notation that the vocabulary files use.

A pattern is a row of elements with blanks between them; `?` after an element makes it optional:

    amperes:current material:@metal?        a quantity called `amperes`, then perhaps a word of the list `metal`
    source:tag at along:length              a tag, the word `at`, a length

Types: a dimension (`current`, `length` …; several with `|`), `count`, `number`, `system`, `pair` (a system of two
voltages), `text`, `tag`, `part` (a tag that may have a dot), `size` (of a conductor), `trade` (size of a raceway),
`date`, `@list` (a word of a closed list). Anything without a colon is a word that stands there as it is.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import product

from fedfrom.quantity import Dimension, Quantity

DIMENSIONS: dict[str, Dimension] = {
    dimension.name.lower(): dimension for dimension in Dimension if dimension is not Dimension.NUMBER
}
PLAIN_TYPES = frozenset({"count", "number", "system", "pair", "text", "tag", "part", "size", "trade", "date"})


class VocabularyError(Exception):
    """A vocabulary file is malformed: a bug of the installation, found by the loader's test."""


@dataclass(frozen=True, slots=True)
class Element:
    """One place in a pattern.

    `type`: "word" (then `literal` stands there), "quantity" (of one of `dimensions`), "list" (a word of `list`), or one
    of the plain types. `name` is the part's name in `Fact.values`; "" for a literal.
    """

    type: str
    name: str = ""
    literal: str = ""
    dimensions: tuple[Dimension, ...] = ()
    list: str = ""


@dataclass(frozen=True, slots=True)
class Pattern:
    """Elements in a row; `source` is the notation that it was written in."""

    elements: tuple[Element, ...]
    source: str


@dataclass(frozen=True, slots=True)
class Bound:
    """A sensible range, both ends included, in base units. Ours, no source: it catches a slip of unit or of a digit."""

    low: Fraction
    high: Fraction
    text: str

    def holds(self, value: Fraction | int) -> bool:
        """Whether the value, in base units, is in the range."""
        number, part = value.numerator, value.denominator  # whole numbers compare many times faster than fractions
        low, high = self.low, self.high
        return low.numerator * part <= number * low.denominator and number * high.denominator <= high.numerator * part


def compile_pattern(source: str) -> tuple[Pattern, ...]:
    """Every pattern that the notation stands for (optional elements present and absent), longest first.

    Raises VocabularyError for an unknown type.
    """
    choices: list[tuple[Element | None, ...]] = []
    for token in source.split():
        optional = token.endswith("?") and len(token) > 1
        element = _element(token.removesuffix("?") if optional else token, source)
        choices.append((element, None) if optional else (element,))
    rows = {tuple(element for element in row if element is not None): None for row in product(*choices)}
    return tuple(Pattern(row, source) for row in sorted(rows, key=len, reverse=True))


def _element(token: str, source: str) -> Element:
    name, colon, kind = token.partition(":")
    if not colon or not kind:
        return Element("word", literal=token)
    if kind.startswith("@"):
        return Element("list", name, list=kind[1:])
    if kind in PLAIN_TYPES:
        return Element(kind, name)
    parts = kind.split("|")
    unknown = [part for part in parts if part not in DIMENSIONS]
    if unknown:
        raise VocabularyError(f"unknown type {unknown[0]!r} in pattern {source!r}")
    return Element("quantity", name, dimensions=tuple(DIMENSIONS[part] for part in parts))


def compile_bound(text: str) -> Bound:
    """`"15 A to 10 kA"` (or plain numbers) as a bound. Raises VocabularyError when malformed."""
    low, separator, high = text.partition(" to ")
    if not separator:
        raise VocabularyError(f"a bound is written `LOW to HIGH`, not {text!r}")
    try:
        return Bound(_bound_end(low), _bound_end(high), text)
    except (KeyError, ValueError) as error:
        raise VocabularyError(f"malformed bound {text!r}") from error


def _bound_end(text: str) -> Fraction:
    number, _, unit = text.partition(" ")
    return Quantity.of(Fraction(number), unit).value
