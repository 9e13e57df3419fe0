"""The sheet around a drawing: border with zones, and the title strip at the right edge."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fedfrom.drawing.legend import legend_and_notes, notes_that_fit
from fedfrom.drawing.lettering import capitals, printable, wrap
from fedfrom.drawing.papers import Paper
from fedfrom.drawing.scene import Group, Shape
from fedfrom.drawing.shapes import label, line, rectangle
from fedfrom.drawing.style import (
    CAPTION_TEXT,
    FRAME_THICK,
    FRAME_THIN,
    NOTE_PITCH,
    NOTE_TEXT,
    NUMBER_TEXT,
    TEXT,
    TITLE_TEXT,
)
from fedfrom.drawing.words import words
from fedfrom.model.items import Status

REVISION_ROWS = 4
ROW = 0.22
SMALL_NUMBER = 0.34
SUBTITLE_TEXT = 0.12


@dataclass(frozen=True, slots=True)
class TitleData:
    """What the strip says: sheet number and count, titles, project, state of the design, revisions, notes, symbols.

    `revisions` are (mark, date as written in the source, description); `symbols` names of the library in legend order;
    `statuses` other than new that occur. `parties`: caption and name of those whose job it is (owner, designer …).
    `scale` in words, "" for a diagram without.
    """

    number: str
    count: str
    title: str
    subtitle: str
    project: str
    project_number: str
    digest: str
    findings: str
    revisions: Sequence[tuple[str, str, str]]
    notes: Sequence[str]
    symbols: Sequence[str]
    statuses: Sequence[Status]
    parties: Sequence[tuple[str, str]] = ()
    scale: str = ""


def frame(paper: Paper, data: TitleData) -> tuple[Group, ...]:
    """Border and strip as groups of kind "frame" and "legend"."""
    left, right = paper.left, paper.width - paper.other
    top, bottom = paper.other, paper.height - paper.other
    inner = right - paper.strip
    border: list[Shape] = [
        rectangle(left, top, right, bottom, FRAME_THICK),
        line(inner, top, inner, bottom, FRAME_THICK),
        *_zones(paper, left, top, right, bottom),
    ]
    boxes, upper = _lower_boxes(paper, data, inner, right, bottom)
    if paper.legend:
        column = round(inner - paper.legend, 4)
        border.append(line(column, top, column, bottom, FRAME_THIN))
        box = (column, inner, top, bottom)
        count = notes_that_fit(data.symbols, data.statuses, data.notes, *box)
        legend, notes = legend_and_notes(data.symbols, data.statuses, data.notes[:count], *box)
        notes += legend_and_notes((), (), data.notes[count:], inner, right, top, upper, count + 1)[1]
    else:
        legend, notes = legend_and_notes(data.symbols, data.statuses, data.notes, inner, right, top, upper)
    return (
        Group((0.0, 0.0), tuple(border), "border", "frame"),
        Group((0.0, 0.0), tuple(boxes), "title-strip", "frame"),
        Group((0.0, 0.0), tuple(legend), "legend", "legend"),
        Group((0.0, 0.0), tuple(notes), "notes", "frame"),
    )


def _zones(paper: Paper, left: float, top: float, right: float, bottom: float) -> list[Shape]:
    shapes: list[Shape] = []
    tick = min(0.25, paper.other - 0.1)
    for index in range(paper.columns):
        x = left + (right - left) * (index + 0.5) / paper.columns
        for y in (top - 0.12, bottom + 0.22):
            shapes.append(label(str(paper.columns - index), (x, y), TEXT, anchor="middle", layer="frame"))
        if index:
            edge = round(left + (right - left) * index / paper.columns, 4)
            shapes += [
                line(edge, top - tick, edge, top, FRAME_THIN),
                line(edge, bottom, edge, bottom + tick, FRAME_THIN),
            ]
    for index, letter in enumerate("DCBA"[-paper.rows :]):
        y = top + (bottom - top) * (index + 0.5) / paper.rows + TEXT / 2
        shapes += [label(letter, (x, y), TEXT, anchor="middle", layer="frame") for x in (left - 0.18, right + 0.18)]
        if index:
            edge = round(top + (bottom - top) * index / paper.rows, 4)
            shapes += [
                line(left - tick, edge, left, edge, FRAME_THIN),
                line(right, edge, right + tick, edge, FRAME_THIN),
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
    number_height = NUMBER_TEXT if not paper.legend else SMALL_NUMBER
    shapes.append(label(data.number, (left + 0.10, y + 0.82), number_height, True, layer="frame"))
    shapes.append(label(data.count, (right - 0.10, y + 0.90), TEXT, anchor="end", layer="frame"))
    if data.revisions and data.revisions[-1][0]:
        mark, date, _ = data.revisions[-1]
        for index, words_line in enumerate(entry for entry in (f"{text['revision']} {mark}", date) if entry):
            at = (right - 0.10, round(y + 0.20 + 0.16 * index, 4))
            shapes.append(label(capitals(words_line), at, TEXT, anchor="end", layer="frame"))
    titles = list(wrap(capitals(data.title), width, TITLE_TEXT, True))
    large = len(titles)
    titles += wrap(capitals(data.subtitle), width, SUBTITLE_TEXT, True)
    _lines(shapes, box(0.34 + 0.20 * len(titles), text["title"]), titles, left, TITLE_TEXT, 0.20, True, large=large)
    project = [*wrap(capitals(data.project), width, TITLE_TEXT, True, most=3)]
    large = len(project)
    project += [capitals(data.project_number)] if data.project_number else []
    _lines(shapes, box(0.34 + 0.20 * len(project), text["project"]), project, left, TITLE_TEXT, 0.20, True, large=large)
    for caption, name in reversed(data.parties):
        named = wrap(capitals(name), width, NOTE_TEXT, most=3)
        _lines(shapes, box(0.22 + NOTE_PITCH * len(named), caption), named, left, NOTE_TEXT, NOTE_PITCH, False)
    scale = f"{data.scale or text['none']} / {paper.name}"
    _lines(shapes, box(0.36, text["scale"]), [scale], left, NOTE_TEXT, 0.2, False)
    state = [f"DESIGN {printable(data.digest)}" if data.digest else "", data.findings]
    state = [part for entry in state if entry for part in wrap(entry, width, NOTE_TEXT)]
    _lines(shapes, box(0.22 + NOTE_PITCH * len(state), text["state"]), state, left, NOTE_TEXT, NOTE_PITCH, False)
    caution = wrap(text["caution"], width, NOTE_TEXT)
    _lines(shapes, box(0.14 + NOTE_PITCH * len(caution), ""), caution, left, NOTE_TEXT, NOTE_PITCH, False, lead=0.08)
    box(1.30 if not paper.legend else 1.00, text["seal"])
    _revision_table(shapes, box, data, left, right)
    return shapes, y


def _lines(
    shapes: list[Shape], top: float, lines: Sequence[str], left: float, height: float, pitch: float, bold: bool,
    lead: float = 0.20, large: int = 1,
) -> None:  # fmt: skip
    """Lines of a box of the strip; of bold ones the first `large` are of full height, the others of a subtitle's."""
    for index, text in enumerate(lines):
        size = height if index < large or height == NOTE_TEXT else min(height, SUBTITLE_TEXT if bold else height)
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
