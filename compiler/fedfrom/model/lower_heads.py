"""The start of a line before its name: status, positions, place along a busway; and what can be saved of a bad one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fedfrom.model.items import Status
from fedfrom.model.lower_modifiers import strip_status
from fedfrom.model.lower_phrases import error
from fedfrom.model.lower_runs import RunLowering
from fedfrom.model.lower_values import COUNT, TAG, read_quantity, split_percent, word_at
from fedfrom.model.lowered import LoweredRun
from fedfrom.source import Span
from fedfrom.syntax.tree import Line, Part, Run, Text, Word
from fedfrom.vocabulary import Entry, Scope


@dataclass(frozen=True, slots=True)
class Head:
    """The start of a line: status, positions, place along a busway, and the parts that are left."""

    status: Status | None
    positions: tuple[int, ...]
    positions_span: Span | None
    along: LoweredRun | None
    parts: tuple[Part, ...]
    good: bool


def read_head(runs: RunLowering, line: Line, scope: Scope, subject: str) -> Head:
    """Takes the start of a line apart; findings for positions that are none."""
    parts = split_percent(line.runs[0].parts) if line.runs else ()
    status, parts = strip_status(parts)
    positions, good = _positions(runs, line, subject)
    span = line.positions[0].span.to(line.positions[-1].span) if line.positions else None
    along = None
    if word_at(parts, 0) == "at" and "at" not in scope.names:
        along, parts = _along(runs, parts, subject)
    return Head(status, positions, span, along, tuple(parts), good)


def _along(runs: RunLowering, parts: tuple[Part, ...], subject: str) -> tuple[LoweredRun | None, tuple[Part, ...]]:
    """`at 60 ft` before a load on a busway."""
    entry = runs.vocabulary.scope("load").entries["at"]
    read = read_quantity(parts, 1)
    used = 1 + (read.used if read else 2)
    match, _ = runs.value(entry, parts[1:used], parts[0].span, subject)
    span = parts[0].span.to(parts[min(used, len(parts)) - 1].span)
    run = LoweredRun(entry, match.values, match.spans, span) if match else None
    return run, parts[used:]


def _positions(runs: RunLowering, line: Line, subject: str) -> tuple[tuple[int, ...], bool]:
    positions: list[int] = []
    for word in line.positions:
        number = int(word.text.replace("_", "")) if COUNT.match(word.text) else 0
        if number < 1:
            message = f"`{word.text}` is not a position"
            advice = "positions are whole numbers from 1, with commas: `1,3,5`"
            runs.report(error("malformed-position", subject, message, word.span, "", advice))
            return (), False
        if number in positions:
            message = f"position {number} is named twice on one line"
            runs.report(error("malformed-position", subject, message, word.span, "again here", "name it once"))
            return (), False
        positions.append(number)
    return tuple(positions), True


def without_position(line: Line) -> tuple[Run, ...]:
    """The runs of a line in the braces of a list, where `180 ft` is a length and no position 180 of something."""
    if len(line.positions) != 1:
        return line.runs
    number = line.positions[0]
    first = line.runs[0]
    return (Run((number, *first.parts), number.span.to(first.span)), *line.runs[1:])


def rescued(entry: Entry, parts: Sequence[Part]) -> tuple[dict[str, object], dict[str, Span]]:
    """The tag and title of a head whose rest could not be read, so that the tag is still known."""
    values: dict[str, object] = {}
    spans: dict[str, Span] = {}
    names = {element.name for pattern in entry.patterns for element in pattern.elements[:1] if element.type == "tag"}
    if parts and names and isinstance(parts[0], Word) and TAG.match(parts[0].text) and parts[0].text != entry.name:
        name = min(names)
        values[name], spans[name] = parts[0].text, parts[0].span
        parts = parts[1:]
    text = next((part for part in parts[:1] if isinstance(part, Text)), None)
    if text is not None:
        key = "title" if entry.kind in {"item", "statement"} else "name"
        values[key], spans[key] = text.text, text.span
    return values, spans


def subject_of(entry: Entry, parts: Sequence[Part], outer: str) -> str:
    """What findings about a line are about: the tag of an item or statement, a load by its gear and name."""
    if entry.kind in {"item", "statement"}:
        tagged = any(pattern.elements and pattern.elements[0].type == "tag" for pattern in entry.patterns)
        return (word_at(parts, 0) if tagged else None) or entry.name
    if entry.kind == "load":
        name = next((part.text for part in parts[:2] if isinstance(part, Text)), "")
        return f'{outer} "{name}"' if name else outer
    return outer
