"""The sheet around a drawing: border with zones, and the title strip at the right edge."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fedfrom.drawing.lettering import capitals, printable, wrap
from fedfrom.drawing.library import SAMPLES
from fedfrom.drawing.scene import Group, Shape
from fedfrom.drawing.shapes import bounds, label, line, rectangle
from fedfrom.drawing.sheets import Paper
from fedfrom.drawing.style import (
    CAPTION_TEXT,
    FRAME_THICK,
    FRAME_THIN,
    NOTE_PITCH,
    NOTE_TEXT,
    NUMBER_TEXT,
    TEXT,
    TITLE_TEXT,
    pen,
)
from fedfrom.drawing.words import words
from fedfrom.model.items import Status

LEGEND_X = 0.62
LEGEND_TEXT_X = 1.22
REVISION_ROWS = 4
ROW = 0.22


@dataclass(frozen=True, slots=True)
class TitleData:
    """What the strip says: sheet number and count, titles, project, state of the design, revisions, notes, symbols.

    `revisions` are (mark, date as written in the source, description); `symbols` names of the library in legend order;
    `statuses` other than new that occur.
    """

    number: str
    count: str
    title: str
    subtitle: str
    project: str
    project_number: str
    drawn_by: str
    digest: str
    findings: str
    revisions: Sequence[tuple[str, str, str]]
    notes: Sequence[str]
    symbols: Sequence[str]
    statuses: Sequence[Status]


def frame(paper: Paper, data: TitleData) -> tuple[Group, ...]:
    """Border and strip as groups of kind "frame" and "legend"."""
    left, right = paper.left, paper.width - paper.other
    top, bottom = paper.other, paper.height - paper.other
    inner = right - paper.strip
    border: list[Shape] = [
        rectangle(left, top, right, bottom, FRAME_THICK),
        line(inner, top, inner, bottom, FRAME_THICK),
        *_zones(left, top, right, bottom),
    ]
    boxes, upper = _lower_boxes(paper, data, inner, right, bottom)
    legend, notes = _legend_and_notes(data, inner, right, top, upper)
    return (
        Group((0.0, 0.0), tuple(border), "border", "frame"),
        Group((0.0, 0.0), tuple(boxes), "title-strip", "frame"),
        Group((0.0, 0.0), tuple(legend), "legend", "legend"),
        Group((0.0, 0.0), tuple(notes), "notes", "frame"),
    )


def _zones(left: float, top: float, right: float, bottom: float) -> list[Shape]:
    shapes: list[Shape] = []
    for index in range(8):
        x = left + (right - left) * (index + 0.5) / 8
        for y in (top - 0.12, bottom + 0.22):
            shapes.append(label(str(8 - index), (x, y), TEXT, anchor="middle", layer="frame"))
        if index:
            edge = round(left + (right - left) * index / 8, 4)
            shapes += [
                line(edge, top - 0.25, edge, top, FRAME_THIN),
                line(edge, bottom, edge, bottom + 0.25, FRAME_THIN),
            ]
    for index, letter in enumerate("DCBA"):
        y = top + (bottom - top) * (index + 0.5) / 4 + TEXT / 2
        shapes += [label(letter, (x, y), TEXT, anchor="middle", layer="frame") for x in (left - 0.18, right + 0.18)]
        if index:
            edge = round(top + (bottom - top) * index / 4, 4)
            shapes += [
                line(left - 0.25, edge, left, edge, FRAME_THIN),
                line(right, edge, right + 0.25, edge, FRAME_THIN),
            ]
    return shapes


def _caption(text: str, x: float, y: float) -> Shape:
    return label(text, (x + 0.07, y + 0.07 + CAPTION_TEXT), CAPTION_TEXT, layer="frame")


def _lower_boxes(paper: Paper, data: TitleData, left: float, right: float, bottom: float) -> tuple[list[Shape], float]:
    """The boxes of the strip from the bottom up; returns them and the y at which they begin."""
    text = words("strip")
    shapes: list[Shape] = []
    y = bottom

    def box(height: float, caption: str) -> float:
        nonlocal y
        y = round(y - height, 4)
        shapes.append(line(left, y, right, y, FRAME_THIN))
        if caption:
            shapes.append(_caption(caption, left, y))
        return y

    width = right - left - 0.20
    box(1.00, text["sheet"])
    shapes.append(label(data.number, (left + 0.10, y + 0.82), NUMBER_TEXT, True, layer="frame"))
    shapes.append(label(data.count, (right - 0.10, y + 0.90), TEXT, anchor="end", layer="frame"))
    titles = [*wrap(capitals(data.title), width, TITLE_TEXT, True), *wrap(capitals(data.subtitle), width, TEXT)]
    _lines(shapes, box(0.34 + 0.20 * len(titles), text["title"]), titles, left, TITLE_TEXT, 0.20, True)
    project = [*wrap(capitals(data.project), width, TITLE_TEXT, True, most=3)]
    project += [capitals(data.project_number)] if data.project_number else []
    _lines(shapes, box(0.34 + 0.20 * len(project), text["project"]), project, left, TITLE_TEXT, 0.20, True)
    if data.drawn_by:
        _lines(shapes, box(0.36, text["drawn"]), [capitals(data.drawn_by)], left, NOTE_TEXT, 0.2, False)
    _lines(shapes, box(0.36, text["scale"]), [f"{text['none']} / {paper.name}"], left, NOTE_TEXT, 0.2, False)
    state = [f"DESIGN {printable(data.digest)}" if data.digest else "", data.findings]
    state = [entry for entry in state if entry]
    _lines(shapes, box(0.22 + NOTE_PITCH * len(state), text["state"]), state, left, NOTE_TEXT, NOTE_PITCH, False)
    caution = wrap(text["caution"], width, NOTE_TEXT)
    _lines(shapes, box(0.14 + NOTE_PITCH * len(caution), ""), caution, left, NOTE_TEXT, NOTE_PITCH, False, lead=0.08)
    box(1.30, text["seal"])
    _revision_table(shapes, box, data, left, right)
    return shapes, y


def _lines(
    shapes: list[Shape], top: float, lines: Sequence[str], left: float, height: float, pitch: float, bold: bool,
    lead: float = 0.20,
) -> None:  # fmt: skip
    for index, text in enumerate(lines):
        size = height if not index or height == NOTE_TEXT else min(height, 0.12 if bold else height)
        shapes.append(label(text, (left + 0.10, top + lead + height + index * pitch), size, bold, layer="frame"))


def _revision_table(shapes: list[Shape], box: object, data: TitleData, left: float, right: float) -> None:
    assert callable(box)
    text = words("strip")
    rows: list[tuple[list[str], str, str]] = []
    for mark, date, description in data.revisions[-6:]:
        rows.append((list(wrap(capitals(description), right - left - 1.35, NOTE_TEXT, most=3)), mark, date))
    rows += [([], "", "")] * max(0, REVISION_ROWS - len(rows))
    start = 0.0
    bottoms = []
    for lines, mark, date in reversed(rows):
        y = box(ROW + NOTE_PITCH * max(0, len(lines) - 1), "")
        bottoms.append(y)
        base = y + 0.06 + NOTE_TEXT
        if mark:
            shapes.append(label(mark, (left + 0.10, base), NOTE_TEXT, layer="frame"))
            shapes.append(label(date, (left + 0.45, base), NOTE_TEXT, layer="frame"))
        for index, line_text in enumerate(lines):
            shapes.append(label(line_text, (left + 1.25, base + index * NOTE_PITCH), NOTE_TEXT, layer="frame"))
        start = start or y
    y = box(ROW, "")
    heads = ((0.07, text["revision"]), (0.45, text["date"]), (1.25, text["description"]))
    for x, word in heads:
        shapes.append(label(word, (left + x, y + 0.06 + 0.07), 0.07, layer="frame"))
    foot = _foot(shapes, bottoms, data)
    for x in (0.38, 1.18):
        shapes.append(line(left + x, y, left + x, foot, FRAME_THIN))
    box(0.20, text["revisions"])


def _foot(shapes: Sequence[Shape], bottoms: Sequence[float], data: TitleData) -> float:
    """The lower edge of the last revision row: where the seal box begins."""
    last = list(data.revisions[-6:])
    extra = len(wrap(capitals(last[-1][2]), 1.85, NOTE_TEXT, most=3)) - 1 if len(last) >= REVISION_ROWS else 0
    return round(bottoms[0] + ROW + NOTE_PITCH * max(0, extra), 4)


def _legend_and_notes(
    data: TitleData, left: float, right: float, top: float, bottom: float
) -> tuple[list[Shape], list[Shape]]:
    text = words("strip")
    notes = _note_lines(data.notes, right - left - 0.45)
    notes_high = 0.45 + NOTE_PITCH * len(notes)
    room = bottom - notes_high - top - 0.40
    entries = _legend_entries(data)
    total = sum(height for _, _, height in entries)
    stretch = max(0.0, min(0.12, (room - total) / max(1, len(entries))))
    legend: list[Shape] = [label(text["symbols"], (left + 0.12, top + 0.28), TEXT, True, layer="frame")]
    y = top + 0.40
    for group, lines, height in entries:
        box = bounds(group)
        middle = y + (height + stretch) / 2
        at_x = round(left + LEGEND_X - (box[0] + box[2]) / 2, 4)
        legend.append(Group((at_x, round(middle - (box[1] + box[3]) / 2, 4)), (group,), kind="legend"))
        first = middle + NOTE_TEXT / 2 - NOTE_PITCH * (len(lines) - 1) / 2
        for index, words_line in enumerate(lines):
            at = (left + LEGEND_TEXT_X, round(first + index * NOTE_PITCH, 4))
            legend.append(label(words_line, at, NOTE_TEXT, layer="frame"))
        y += height + stretch
    start = max(y + 0.06, top + 0.45)
    shapes: list[Shape] = [line(left, round(start, 4), right, round(start, 4), FRAME_THIN)]
    shapes.append(label(text["notes"], (left + 0.12, start + 0.24), TEXT, True, layer="frame"))
    for index, (number, note) in enumerate(notes):
        base = round(start + 0.42 + index * NOTE_PITCH, 4)
        if number:
            shapes.append(label(number, (left + 0.12, base), NOTE_TEXT, layer="frame"))
        shapes.append(label(note, (left + 0.33, base), NOTE_TEXT, layer="frame"))
    return legend, shapes


def _legend_entries(data: TitleData) -> list[tuple[Group, tuple[str, ...], float]]:
    """(sample, words, height) for every symbol and every status on the sheet."""
    names = words("legend")
    entries: list[tuple[Group, tuple[str, ...], float]] = []
    for name in data.symbols:
        sample = SAMPLES[name](pen(Status.NEW))
        entries.append(_entry(Group((0.0, 0.0), (sample,)), names[name]))
    styles = words("status")
    for status in data.statuses:
        entries.append(_entry(_status_sample(status), styles[status.value]))
    return entries


def _entry(sample: Group, text: str) -> tuple[Group, tuple[str, ...], float]:
    lines = wrap(text, 1.90, NOTE_TEXT)
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


def _note_lines(notes: Sequence[str], width: float) -> list[tuple[str, str]]:
    found = []
    for number, note in enumerate(notes, 1):
        for index, text in enumerate(wrap(note, width, NOTE_TEXT)):
            found.append((f"{number}." if not index else "", text))
    return found
