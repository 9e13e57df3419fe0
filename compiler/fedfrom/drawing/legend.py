"""The symbols and notes of a sheet: in the title strip, on small sheets in a column of their own."""

from __future__ import annotations

from collections.abc import Sequence

from fedfrom.drawing.lettering import wrap
from fedfrom.drawing.library import SAMPLES
from fedfrom.drawing.scene import Group, Shape
from fedfrom.drawing.shapes import bounds, label, line
from fedfrom.drawing.style import FRAME_THIN, NOTE_PITCH, NOTE_TEXT, TEXT, pen
from fedfrom.drawing.words import words
from fedfrom.model.items import Status

LEGEND_X = 0.62
LEGEND_TEXT_X = 1.22
LEGEND_EDGE = 0.08
"""Clear space right of the words, inches."""
NOTE_EDGES = 0.45
"""What numbers and clear space take of the width of notes, inches."""


def legend_and_notes(
    symbols: Sequence[str], statuses: Sequence[Status], notes: Sequence[str],
    left: float, right: float, top: float, bottom: float, first: int = 1,
) -> tuple[list[Shape], list[Shape]]:  # fmt: skip
    """Samples of symbols and line styles with their words, notes below, numbered from `first`; within the column given,
    inches."""
    text = words("strip")
    lines = _note_lines(notes, right - left - NOTE_EDGES, first)
    notes_high = 0.45 + NOTE_PITCH * len(lines)
    room = bottom - notes_high - top - 0.40
    entries = _legend_entries(symbols, statuses, right - left - LEGEND_TEXT_X - LEGEND_EDGE)
    total = sum(height for _, _, height in entries)
    stretch = max(0.0, min(0.12, (room - total) / max(1, len(entries))))
    legend: list[Shape] = []
    y = top + 0.06
    if entries:
        legend.append(label(text["symbols"], (left + 0.12, top + 0.28), TEXT, True, layer="frame"))
        y = top + 0.40
    for group, named, height in entries:
        box = bounds(group)
        middle = y + (height + stretch) / 2
        at_x = round(left + LEGEND_X - (box[0] + box[2]) / 2, 4)
        legend.append(Group((at_x, round(middle - (box[1] + box[3]) / 2, 4)), (group,), kind="legend"))
        base = middle + NOTE_TEXT / 2 - NOTE_PITCH * (len(named) - 1) / 2
        for index, words_line in enumerate(named):
            at = (left + LEGEND_TEXT_X, round(base + index * NOTE_PITCH, 4))
            legend.append(label(words_line, at, NOTE_TEXT, layer="frame"))
        y += height + stretch
    return legend, _notes(lines, left, right, y + 0.06 if entries else top) if lines else []


def notes_that_fit(
    symbols: Sequence[str], statuses: Sequence[Status], notes: Sequence[str],
    left: float, right: float, top: float, bottom: float,
) -> int:  # fmt: skip
    """How many of the notes, from the first one, find room below the symbols."""
    entries = _legend_entries(symbols, statuses, right - left - LEGEND_TEXT_X - LEGEND_EDGE)
    room = bottom - top - 0.40 - sum(height for _, _, height in entries) - 0.55
    count = 0
    while count < len(notes) and NOTE_PITCH * len(_note_lines(notes[: count + 1], right - left - NOTE_EDGES)) <= room:
        count += 1
    return count


def _notes(lines: Sequence[tuple[str, str]], left: float, right: float, start: float) -> list[Shape]:
    shapes: list[Shape] = [line(left, round(start, 4), right, round(start, 4), FRAME_THIN)]
    shapes.append(label(words("strip")["notes"], (left + 0.12, start + 0.24), TEXT, True, layer="frame"))
    for index, (number, note) in enumerate(lines):
        base = round(start + 0.42 + index * NOTE_PITCH, 4)
        if number:
            shapes.append(label(number, (left + 0.12, base), NOTE_TEXT, layer="frame"))
        shapes.append(label(note, (left + 0.33, base), NOTE_TEXT, layer="frame"))
    return shapes


def _legend_entries(
    symbols: Sequence[str], statuses: Sequence[Status], width: float
) -> list[tuple[Group, tuple[str, ...], float]]:
    """(sample, words, height) for every symbol and every status on the sheet."""
    names = words("legend")
    entries = [_entry(Group((0.0, 0.0), (SAMPLES[name](pen(Status.NEW)),)), names[name], width) for name in symbols]
    styles = words("status")
    return entries + [_entry(_status_sample(status), styles[status.value], width) for status in statuses]


def _entry(sample: Group, text: str, width: float) -> tuple[Group, tuple[str, ...], float]:
    lines = wrap(text, width, NOTE_TEXT)
    box = bounds(sample)
    return sample, lines, round(max(box[3] - box[1] + 0.08, NOTE_PITCH * len(lines) + 0.05, 0.22), 4)


def _status_sample(status: Status) -> Group:
    strokes = pen(status)
    shapes: list[Shape] = [line(-0.35, 0, 0.35, 0, strokes.wire)]
    if status is Status.DEMOLISH:
        for x in (-0.15, 0.15):
            shapes += [
                line(x - 0.05, -0.05, x + 0.05, 0.05, strokes.thin),
                line(x - 0.05, 0.05, x + 0.05, -0.05, strokes.thin),
            ]
    return Group((0.0, 0.0), tuple(shapes), kind="legend")


def _note_lines(notes: Sequence[str], width: float, first: int = 1) -> list[tuple[str, str]]:
    found = []
    for number, note in enumerate(notes, first):
        for index, text in enumerate(wrap(note, width, NOTE_TEXT)):
            found.append((f"{number}." if not index else "", text))
    return found
