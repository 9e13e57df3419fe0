"""Values written into a text at their home, with the rest of the text untouched."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fedfrom.editing.pin_types import Candidate, How
from fedfrom.editing.reading import words
from fedfrom.model.lower_modifiers import STATUS_WORDS
from fedfrom.syntax.tree import Line, Word

_BEFORE_PROPERTIES = ("fed from", "normal from", "emergency from", "alternate from", "bypass from", "connects to")
_FIRST_PROPERTIES = ("main", "bus", "voltage", "rating", "secondary")
_DEVICES = ("breaker", "fused switch", "bolted-pressure switch", "switch")
_INDENT = "    "
_LAST = 1000  # rank of what is put after everything else at its place


@dataclass(frozen=True, slots=True, order=True)
class Edit:
    """Text put in the place of `[start, end)`; edits at one place follow their `rank`, then their order."""

    start: int
    rank: int
    end: int
    text: str


def apply(text: str, edits: Sequence[Edit]) -> str:
    """The text with all edits."""
    pieces: list[str] = []
    at = 0
    for edit in sorted(edits, key=lambda edit: (edit.start, edit.rank)):
        pieces += [text[at : edit.start], edit.text]
        at = max(at, edit.end)
    pieces.append(text[at:])
    return "".join(pieces)


def edits_for(line: Line, wanted: Sequence[Candidate], text: str) -> list[Edit]:
    """The edits that write values into their line (all of these have it for a home)."""
    made: list[Edit] = []
    properties = [candidate.words for candidate in wanted if candidate.how is How.PROPERTY]
    properties += [candidate.also for candidate in wanted if candidate.how is How.KIND and candidate.also]
    for rank, candidate in enumerate(wanted):
        if candidate.how is not How.PROPERTY:
            made += _edits_of(line, candidate, rank, text)
    if properties:  # after what is put at the end of a feed
        made += _properties(line, properties, text)
    return made


def _edits_of(line: Line, candidate: Candidate, rank: int, text: str) -> list[Edit]:
    end = line.runs[-1].span.end
    made: list[Edit] = []
    match candidate.how:
        case How.OPTION:
            made.append(Edit(end, rank, end, f", {candidate.words}"))
        case How.POSITIONS:
            parts = line.runs[0].parts
            first = parts[0]
            is_status = isinstance(first, Word) and first.text in STATUS_WORDS and len(parts) > 1
            start = (parts[1] if is_status else first).span.start
            made.append(Edit(start, rank, start, f"{candidate.words} "))
        case How.RATING:
            made.append(_rating(candidate, rank, text))
        case How.KIND:
            word = next(part for part in line.runs[0].parts if isinstance(part, Word) and part.text == "gear")
            made.append(Edit(word.span.start, rank, word.span.end, candidate.words))
    if candidate.also and candidate.how is not How.KIND:
        made.append(Edit(end, rank, end, f", {candidate.also}"))
    return made


def _rating(candidate: Candidate, rank: int, text: str) -> Edit:
    """The rating after the word of a device; where only its functions are said, the device before them."""
    device = candidate.home.device if candidate.home is not None else None
    assert device is not None
    start = device.start
    kind = max((word for word in _DEVICES if candidate.words.startswith(word)), key=len)
    status = next((word for word in STATUS_WORDS if text.startswith(f"{word} ", start)), "")
    at = start + len(status)
    at += len(text[at:]) - len(text[at:].lstrip(" \t"))
    said = text[at : at + len(kind) + 8].split()
    if said[: len(kind.split())] == kind.split() or " ".join(said).startswith(kind):
        after = at + len(kind)
        follows = text[after:].lstrip(" \t")[:1]  # `breaker LSI` becomes `breaker 350 A, LSI`
        comma = "," if follows and follows not in ",{}#\r\n" else ""
        return Edit(after, rank, after, candidate.words[len(kind) :] + comma)
    return Edit(start, rank, start, f"{candidate.words}, ")


# --- lines of their own ----------------------------------------------------------------------------------------------


def _properties(line: Line, lines: Sequence[str], text: str) -> list[Edit]:
    """Property lines in the block of an item: after its feeds, its `main` and what else stands first."""
    margin = _margin(text, line.span.start)
    block = line.block
    if block is None:
        end = line.runs[-1].span.end
        inside = "".join(f"\n{margin}{_INDENT}{words}" for words in lines)
        return [Edit(end, _LAST, end, f" {{{inside}\n{margin}}}")]
    anchor = _anchor(block.statements, lines)
    start = anchor.span.end if anchor is not None else block.span.start + 1
    rest = text[start : text.find("\n", start) if "\n" in text[start:] else len(text)]
    if "\n" in text[block.span.start : block.span.end] and not rest.strip(" \t\r").startswith("}"):
        own = _margin(text, block.statements[0].span.start) if block.statements else margin + _INDENT
        at = start + len(rest.rstrip("\r"))
        return [Edit(at, _LAST, at, "".join(f"\n{own}{words}" for words in lines))]
    opened = block.span.start + 1
    closed = block.span.end - 1
    before = len(text[opened:closed]) - len(text[opened:closed].rstrip(" \t"))
    own = margin + _INDENT
    first = len(text[opened:closed]) - len(text[opened:closed].lstrip(" \t"))
    if not block.statements:
        return [Edit(opened, 0, closed, "".join(f"\n{own}{words}" for words in lines) + f"\n{margin}")]
    return [
        Edit(opened, 0, opened + first, f"\n{own}"),
        Edit(closed - before, _LAST, closed, "".join(f"\n{own}{words}" for words in lines) + f"\n{margin}"),
    ]


def _anchor(statements: Sequence[object], lines: Sequence[str]) -> Line | None:
    """The statement after which properties are put: the last of those that stand first in an item."""
    found = None
    for statement in statements:
        if isinstance(statement, Line):
            said = " ".join(words(statement.runs[0].parts))
            starts = tuple(f"{name} " for name in (*_BEFORE_PROPERTIES, *_FIRST_PROPERTIES))
            if f"{said} ".startswith(starts):
                found = statement
    return found


def _margin(text: str, start: int) -> str:
    """The blanks before what stands at an offset, if nothing else stands before it on its line."""
    line = text[text.rfind("\n", 0, start) + 1 : start]
    return line if not line.strip() else line[: len(line) - len(line.lstrip())]
