"""Reads one value from the words of a run: a quantity, a voltage system, a conductor size, a word of a list …

Every reader takes the parts and an index and returns the value with the number of parts used, or None.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from fedfrom.quantity import SYSTEMS, UNITS, Dimension, Quantity, find_system
from fedfrom.source import Span
from fedfrom.syntax.tree import Part, Text, Word
from fedfrom.vocabulary import Element, Vocabulary, WordList

NUMBER = re.compile(r"-?\d[\d_]*(\.\d[\d_]*)?$")
FRACTION = re.compile(r"(?:(\d+)-)?(\d+)/(\d+)$")
GLUED = re.compile(r"(-?\d[\d_]*(?:\.\d[\d_]*)?|(?:\d+-)?\d+/\d+)([A-Za-z%][A-Za-z0-9/]*)$")
TAG = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_-]*$")
PART_OF = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_-]*(\.[A-Za-z0-9_][A-Za-z0-9_-]*)?$")
DATE = re.compile(r"\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$")
COUNT = re.compile(r"\d[\d_]*$")
_AWG = re.compile(r"([1-4]/0|\d{1,2})$")
_KCMIL = re.compile(r"\d{3,4}$")
_AUGHTS = frozenset({"1/0", "2/0", "3/0", "4/0"})
_AWG_SIZES = frozenset({"18", "16", "14", "12", "10", "8", "6", "4", "3", "2", "1"})
_KCMIL_SIZES = frozenset(  # the sizes of the ampacity table
    {"250", "300", "350", "400", "500", "600", "700", "750", "800", "900", "1000", "1250", "1500", "1750", "2000"}
)
TRADE_SIZES = ("3/8", "1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "3-1/2", "4", "5", "6")


@dataclass(frozen=True, slots=True)
class Read:
    """A value and how many parts it took."""

    value: object
    used: int


def word_at(parts: Sequence[Part], index: int) -> str | None:
    """The text of the word at `index`, or None where there is none or it is a quoted text or a list."""
    part = parts[index] if index < len(parts) else None
    return part.text if isinstance(part, Word) else None


def words_of(parts: Sequence[Part]) -> list[str]:
    """The words at the start, up to what is no word."""
    words: list[str] = []
    for index in range(len(parts)):
        word = word_at(parts, index)
        if word is None:
            break
        words.append(word)
    return words


def split_percent(parts: Sequence[Part]) -> tuple[Part, ...]:
    """The parts with `20%` taken apart into `20` and `%`; a percent sign is never part of a tag."""
    out: list[Part] = []
    for part in parts:
        text = part.text if isinstance(part, Word) else ""
        if len(text) > 1 and text.endswith("%") and NUMBER.match(text[:-1]):
            cut = part.span.end - 1
            out.append(Word((text[:-1],), Span(part.span.file, part.span.start, cut)))
            out.append(Word(("%",), Span(part.span.file, cut, part.span.end)))
        else:
            out.append(part)
    return tuple(out)


def read_number(text: str, *, fractions: bool = False) -> Fraction | None:
    """`1_250`, `12.47`, `-10`; with `fractions` also `1/2` and `7-1/2`."""
    if text.isdecimal():
        return Fraction(int(text))
    if NUMBER.match(text):
        return Fraction(text.replace("_", ""))
    found = FRACTION.match(text) if fractions else None
    if found and int(found[3]):
        return Fraction(int(found[1] or 0)) + Fraction(int(found[2]), int(found[3]))
    return None


def read_quantity(parts: Sequence[Part], index: int) -> Read | None:
    """Any number with a known unit, written `20 A` or `20A`; only hp reads fractions."""
    text = word_at(parts, index)
    if text is None or not (text[0].isdigit() or text[0] == "-"):
        return None
    unit = word_at(parts, index + 1)
    if unit in UNITS:
        number = read_number(text, fractions=unit == "hp")
        if number is not None:
            return Read(Quantity.of(number, unit), 2)
    glued = GLUED.match(text)
    if glued and glued[2] in UNITS:
        number = read_number(glued[1], fractions=glued[2] == "hp")
        if number is not None:
            return Read(Quantity.of(number, glued[2]), 1)
    return None


def read_system(parts: Sequence[Part], index: int) -> Read | None:
    """A voltage system: words until `V`, perhaps with a qualifier, longest first."""
    words: list[str] = []
    if not (word_at(parts, index) or " ")[0].isdigit():
        return None
    for offset in range(3):
        text = word_at(parts, index + offset)
        if text is None:
            break
        words.append(text)
    for used in range(len(words), 0, -1):
        literal = " ".join(words[:used])
        if used <= 2 and not literal.endswith(" V"):
            literal = re.sub(r"(?<=[0-9])V\b", " V", literal)
        system = find_system(literal)
        if system is not None:
            return Read(system, used)
    return None


def read_size(parts: Sequence[Part], index: int) -> Read | None:
    """A conductor size by its name in the tables: `12 AWG`, `3/0 AWG`, `250 kcmil`."""
    text, unit, used = word_at(parts, index), word_at(parts, index + 1), 2
    if text is None:
        return None
    glued = re.match(r"(.+?)(AWG|kcmil)$", text)
    if glued:
        text, unit, used = glued[1], glued[2], 1
    if unit == "AWG" and (text in _AWG_SIZES or text in _AUGHTS):
        return Read(text, used)
    if unit == "kcmil" and text in _KCMIL_SIZES:
        return Read(text, used)
    return None


def is_like_size(parts: Sequence[Part], index: int) -> bool:
    """Whether the words have the form of a conductor size (perhaps of a size that does not exist)."""
    text, unit = word_at(parts, index), word_at(parts, index + 1)
    if text is None:
        return False
    if unit == "AWG":
        return bool(_AWG.match(text))
    return unit == "kcmil" and bool(_KCMIL.match(text))


def read_trade(parts: Sequence[Part], index: int) -> Read | None:
    """A raceway trade size: `4 inch`, `1-1/4 inch`."""
    text = word_at(parts, index)
    if text in TRADE_SIZES and word_at(parts, index + 1) == "inch":
        return Read(text, 2)
    glued = re.match(r"(.+?)inch$", text or "")
    return Read(glued[1], 1) if glued and glued[1] in TRADE_SIZES else None


def read_list(parts: Sequence[Part], index: int, words: WordList) -> Read | None:
    """The key of the word of a closed list that stands here, the one of most words first."""
    first = word_at(parts, index)
    for pieces in words.by_first_word.get(first or "", ()):
        if all(word_at(parts, index + offset) == piece for offset, piece in enumerate(pieces)):
            return Read(words.key(" ".join(pieces)), len(pieces))
    return None


def read_element(
    element: Element,
    parts: Sequence[Part],
    index: int,
    vocabulary: Vocabulary,
    *,
    any_tag: bool,
    literals: frozenset[str],
) -> Read | None:
    """What `element` reads at `index`, or None.

    `any_tag` False: a word that could as well be a quantity or one of the pattern's `literals` is not taken as a tag.
    """
    if index >= len(parts):
        return None
    part = parts[index]
    if isinstance(part, Text):
        return Read(part.text, 1) if element.type == "text" else None
    text = word_at(parts, index)
    if text is None or element.type == "text":
        return None
    if element.type == "word":
        return Read(text, 1) if text == element.literal else None
    if element.type == "list":
        return read_list(parts, index, vocabulary.lists[element.list])
    if element.type == "tag":
        plain = any_tag or (text not in literals and read_quantity(parts, index) is None)
        return Read(text, 1) if plain and TAG.match(text) else None
    if element.type == "quantity":
        read = read_quantity(parts, index)
        fits = read and isinstance(read.value, Quantity) and read.value.dimension in element.dimensions
        return read if fits else None
    return _READERS[element.type](parts, index)


def _read_part(parts: Sequence[Part], index: int) -> Read | None:
    text = word_at(parts, index) or ""
    return Read(text, 1) if PART_OF.match(text) else None


def _read_count(parts: Sequence[Part], index: int) -> Read | None:
    text = word_at(parts, index) or ""
    counts = COUNT.match(text) and word_at(parts, index + 1) not in UNITS
    return Read(int(text.replace("_", "")), 1) if counts else None


def _read_plain_number(parts: Sequence[Part], index: int) -> Read | None:
    number = read_number(word_at(parts, index) or "")
    return Read(Quantity(number, Dimension.NUMBER), 1) if number is not None else None


def _read_date(parts: Sequence[Part], index: int) -> Read | None:
    text = word_at(parts, index) or ""
    return Read(text, 1) if DATE.match(text) else None


def _read_pair(parts: Sequence[Part], index: int) -> Read | None:
    return read_system(parts, index) if "/" in (word_at(parts, index) or "") else None


_READERS: dict[str, Callable[[Sequence[Part], int], Read | None]] = {
    "part": _read_part,
    "count": _read_count,
    "number": _read_plain_number,
    "date": _read_date,
    "system": read_system,
    "pair": _read_pair,
    "size": read_size,
    "trade": read_trade,
}


def system_literals() -> tuple[str, ...]:
    return tuple(SYSTEMS)
