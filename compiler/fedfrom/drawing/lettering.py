"""Lettering: how wide a text is on paper, which characters can be written, and where long text is broken.

Widths come from a table shipped beside the font (`fonts/widths.json`), never from fonts of the machine, so that a
layout is the same everywhere. Every writer then enforces the measured width.
"""

from __future__ import annotations

import json
import unicodedata
from functools import lru_cache
from importlib import resources
from typing import Any

CAP_HEIGHT = 0.7
"""Cap height of the shipped font in em (its OS/2 table says 700 of 1000 units)."""

_PLAIN = str.maketrans(
    {
        "\u2018": "'", "\u2019": "'", "\u201c": '"', "\u201d": '"', "\u2013": "-", "\u2014": "-", "\u2212": "-",
        "\u2026": "...", "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\u2192": "->", "\u0394": "DELTA",
        "\u0141": "L", "\u0142": "l", "\u0110": "D", "\u0111": "d", "\u03a9": "OHM", "\u2126": "OHM",
        "\u03bc": "\u00b5", "\u2264": "<=", "\u2265": ">=", "\u017f": "s", "\t": " ", "\n": " ", "\r": " ",
    }
)  # fmt: skip


@lru_cache(maxsize=1)
def _widths() -> dict[str, Any]:
    text = resources.files("fedfrom.drawing").joinpath("fonts/widths.json").read_text(encoding="utf-8")
    loaded: dict[str, Any] = json.loads(text)
    return loaded


@lru_cache(maxsize=20_000)
def _em_width(text: str, bold: bool) -> float:
    table: dict[str, int] = _widths()["bold" if bold else "regular"]
    return sum(table[character] for character in text) / 1000


def measure(text: str, height: float, bold: bool = False) -> float:
    """The width of a printable text in inches at a cap height in inches.

    Raises KeyError for a character that the font lacks: pass the text through `printable` first.
    """
    return _em_width(text, bold) * height / CAP_HEIGHT


@lru_cache(maxsize=20_000)
def printable(text: str) -> str:
    """The text with characters of the shipped font only, single blanks between words.

    Typographic signs become plain ones, letters with marks that the font lacks lose the mark; what then is still
    missing becomes "?" (the sheet's notes say so).
    """
    table = _widths()["regular"]
    kept = []
    for character in text.translate(_PLAIN):
        if character in table and (ord(character) < 0x300 or character in "\u20ac\u2122"):
            kept.append(character)
            continue
        base = unicodedata.normalize("NFKD", character)
        plain = "".join(part for part in base if part in table and ord(part) < 0x300)
        kept.append(plain or ("" if unicodedata.combining(character) else "?"))
    return " ".join("".join(kept).split())


def capitals(text: str) -> str:
    """Printable text in capitals, as lettered on drawings. For words only: units and tags keep their own case."""
    return printable(printable(text).upper())


_UNITS = frozenset({"kW", "kVA", "kVAR", "MVA", "kV", "kA", "mA", "Hz"})


def lettered(text: str) -> str:
    """Words in capitals as on drawings; units, and what has capitals or figures inside as tags do, stay as written."""
    return " ".join(_lettered(word) for word in printable(text).split(" "))


def _lettered(word: str) -> str:
    bare = word.strip(".,;:()")
    plain = bare.islower() or (bare[:1].isupper() and bare[1:].islower()) or not bare.isalnum()
    tag = any(character.isdigit() for character in bare) and bare[:1].isupper()
    if bare in _UNITS or tag or not plain:
        return word
    mixed = "." in bare and any(part.isupper() for part in bare.split("."))
    return word if mixed else word.upper()


def wrap(text: str, width: float, height: float, bold: bool = False, most: int = 0) -> tuple[str, ...]:
    """Break a text at blanks so that no line is wider than `width` inches; a longer word is broken where it must be.

    `most` > 0 limits the number of lines: the last one then ends in "...".
    """
    lines: list[str] = []
    for word in (piece for whole in text.split() for piece in _pieces(whole, width, height, bold)):
        joined = f"{lines[-1]} {word}" if lines else word
        if lines and measure(joined, height, bold) <= width:
            lines[-1] = joined
        else:
            lines.append(word)
    if most and len(lines) > most:
        lines = lines[:most]
        while len(lines[-1]) > 1 and measure(f"{lines[-1]}...", height, bold) > width:
            lines[-1] = lines[-1][:-1].rstrip()
        lines[-1] = f"{lines[-1]}..."
    return tuple(lines)


def _pieces(word: str, width: float, height: float, bold: bool) -> list[str]:
    """A word in pieces that each fit a line, broken behind a hyphen or comma where one is near."""
    pieces: list[str] = []
    while len(word) > 1 and measure(word, height, bold) > width:
        cut = next((n for n in range(len(word) - 1, 1, -1) if measure(word[:n], height, bold) <= width), 1)
        mark = max(word.rfind(sign, 1, cut) for sign in "-,/") + 1
        cut = mark if mark > cut // 2 else cut
        pieces.append(word[:cut])
        word = word[cut:]
    return [*pieces, word]
