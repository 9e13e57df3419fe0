"""How the smallest pieces are written: words, texts, what stands in square brackets, lists."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from fedfrom.source import SourceFile
from fedfrom.syntax.tree import ListValue, Part, Run, Splice, Text, Word

_ARITHMETIC = re.compile(
    r"(?P<number>\d+(?:_\d+)*(?:\.\d+(?:_\d+)*)?)[ \t]*(?P<unit>VA/ft2(?!\w)|[A-Za-z]\w*|%)?"
    r"|(?P<name>[A-Za-z_]\w*(?:[ \t]*\.[ \t]*[A-Za-z_]\w*)?)|(?P<sign>[-+*/()])"
)


class Pieces:
    """The canonical text of words, texts and lists of one file.

    `cuts`: where a word that glues a number to its unit is cut, by the word's start: 3 for `100A`.
    """

    def __init__(self, source: SourceFile, cuts: Mapping[int, int]) -> None:
        self.source = source
        self.cuts = cuts

    def run(self, run: Run) -> str:
        """The parts of a run with a blank between them."""
        return self.parts(run.parts)

    def parts(self, parts: Iterable[Part]) -> str:
        return " ".join(map(self.part, parts))

    def runs(self, runs: Iterable[Run]) -> str:
        """Runs with a comma and a blank between them, numbers of a row with a comma only: `position 2,4,6, meter`."""
        out = ""
        before: Run | None = None
        for run in runs:
            comma = "" if before is None else ("," if _is_number(run.parts) and _is_number(before.parts[-1:]) else ", ")
            out += comma + self.run(run)
            before = run
        return out

    def part(self, part: Part) -> str:
        if isinstance(part, ListValue):
            return f"({self.runs(part.values)})"
        return self.word(part)

    def word(self, word: Word | Text) -> str:
        """A word or a text as written, arithmetic in it with even blanks, `100A` cut where it is to be."""
        text = self.source.text
        pieces, at = [], word.span.start
        for segment in word.segments:
            if isinstance(segment, Splice):
                span = segment.span
                pieces += [text[at : span.start], f"[{arithmetic(text[span.start + 1 : span.end - 1])}]"]
                at = span.end
        pieces.append(text[at : word.span.end])
        written = "".join(pieces)
        cut = self.cuts.get(word.span.start)
        return f"{written[:cut]} {written[cut:]}" if cut else written


def _is_number(parts: Sequence[Part]) -> bool:
    """Whether a run is nothing but a whole number (a parameter may be one)."""
    word = parts[0] if len(parts) == 1 else None
    if not isinstance(word, Word):
        return False
    return all(isinstance(segment, Splice) or segment.isdigit() for segment in word.segments)


def arithmetic(inner: str) -> str:
    """What stands between square brackets: blanks around operators and before units, none inside brackets."""
    out = ""
    operand = False  # whether what was written last can be the left side of an operator
    for found in _ARITHMETIC.finditer(inner):
        sign = found["sign"]
        if sign is None:
            number = f"{found['number']} {found['unit']}" if found["unit"] else found["number"]
            out += number or re.sub(r"[ \t]", "", found["name"])
            operand = True
        elif sign in "()":
            out += sign
            operand = sign == ")"
        else:
            out += f" {sign} " if operand else sign
            operand = False
    return out
