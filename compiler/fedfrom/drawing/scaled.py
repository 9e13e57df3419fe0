"""What drawings to scale share: scales, dimension lines, lengths in words, and views on sheets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil

from fedfrom.drawing.papers import Paper
from fedfrom.drawing.scene import Group, Shape, Stroke
from fedfrom.drawing.shapes import label, line
from fedfrom.drawing.sheet_set import piece
from fedfrom.drawing.style import NOTE_TEXT

SCALES = (
    ("1 IN = 1 FT", 1.0),
    ("3/4 IN = 1 FT", 0.75),
    ("1/2 IN = 1 FT", 0.5),
    ("3/8 IN = 1 FT", 0.375),
    ("1/4 IN = 1 FT", 0.25),
    ("3/16 IN = 1 FT", 0.1875),
    ("1/8 IN = 1 FT", 0.125),
    ("1/16 IN = 1 FT", 0.0625),
    ("1/32 IN = 1 FT", 0.03125),
)
"""Scale in words and inches on paper for a foot, from the largest."""

DIMENSION = Stroke(0.30, (), "dimension")
TICK = 0.06
GAP = 0.4


@dataclass(frozen=True, slots=True)
class View:
    """One drawing to scale: shapes from (0, 0) at its top left, size on paper in inches, scale in words."""

    key: str
    shapes: tuple[Shape, ...]
    width: float
    height: float
    scale: str


def scale_for(
    width_ft: float, height_ft: float, margins: tuple[float, float], paper: Paper, largest: float = 1.0
) -> tuple[str, float]:
    """The largest usual scale, at most `largest`, at which a thing and its margins fit the paper.

    The smallest one where none does; the sheet then has to grow (`grown`).
    """
    room = (paper.room[0] - margins[0], paper.room[1] - margins[1])
    for words, factor in SCALES:
        if factor <= largest and width_ft * factor <= room[0] and height_ft * factor <= room[1]:
            return words, factor
    return SCALES[-1]


def grown(paper: Paper, view: View) -> Paper:
    """The paper, or one larger by whole inches for a view that does not fit it."""
    over = (max(0, ceil(view.width - paper.room[0])), max(0, ceil(view.height - paper.room[1])))
    if over == (0, 0):
        return paper
    width, height = paper.width + over[0], paper.height + over[1]
    return replace(paper, name=f"{height:g} x {width:g}", width=width, height=height)


def inches_text(value: float) -> str:
    """ "36 IN", "4.5 IN"."""
    return f"{value:.4g} IN"


def feet_text(feet: float) -> str:
    """ "13 FT", "13 FT 6 IN"."""
    whole, rest = divmod(round(feet * 12), 12)
    return f"{whole} FT {rest} IN" if rest else f"{whole} FT"


def across(x1: float, x2: float, y: float, text: str) -> tuple[Shape, ...]:
    """A level dimension line with ticks; the text stands on it, or under it where it is wider than the line."""
    words = label(text, ((x1 + x2) / 2, y - 0.05), NOTE_TEXT, anchor="middle", layer="dimension")
    if words.width > x2 - x1:
        words = label(text, ((x1 + x2) / 2, y + 0.05 + NOTE_TEXT), NOTE_TEXT, anchor="middle", layer="dimension")
    return (line(x1, y, x2, y, DIMENSION), _tick(x1, y), _tick(x2, y), words)


def upright(x: float, y1: float, y2: float, text: str) -> tuple[Shape, ...]:
    """An upright dimension line with ticks, its text left of it, read from the right."""
    words = label(text, (x - 0.05, (y1 + y2) / 2), NOTE_TEXT, anchor="middle", turn=90, layer="dimension")
    return (line(x, y1, x, y2, DIMENSION), _tick(x, y1), _tick(x, y2), words)


def _tick(x: float, y: float) -> Shape:
    return line(x - TICK, y + TICK, x + TICK, y - TICK, DIMENSION)


def shelves(views: Sequence[View], paper: Paper) -> list[tuple[Paper, tuple[Group, ...]]]:
    """Views on sheets in their order: rows from the top, a new sheet when one is full."""
    sheets: list[tuple[Paper, list[Group]]] = []
    x = y = row = 0.0
    for view in views:
        page = grown(paper, view)
        wide, high = page.room
        if sheets and page is paper and sheets[-1][0] is paper:
            if x and x + view.width > wide + 1e-6:
                x, y, row = 0.0, y + row + GAP, 0.0
            fits = y + view.height <= high + 1e-6
        else:
            fits = False
        if not fits:
            sheets.append((page, []))
            x = y = row = 0.0
        left, top, _, _ = page.area
        sheets[-1][1].append(piece(view.key, view.shapes, (round(left + x, 4), round(top + y, 4))))
        x += view.width + GAP
        row = max(row, view.height)
    return [(page, tuple(groups)) for page, groups in sheets]
