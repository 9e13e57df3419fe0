"""Where everything of a riser sheet stands: columns of every riser, rows of every storey, lanes and tracks of wires."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fedfrom.drawing.floors import Floor
from fedfrom.drawing.outline import Run
from fedfrom.drawing.riser_plan import Riser, Twig
from fedfrom.drawing.shapes import widest
from fedfrom.drawing.style import LINE_PITCH, TEXT, up

ROW = 0.60
BOX = 0.42
LANE = 0.12
TRACK = 0.12
GAP = 0.40
PAD = 0.20
GHOST_FLOOR = 0.90
INSET = 0.10
LIST_COLUMN = 6.5
"""What a column of the list of feeders takes at most, with ordinary tags, inches."""


@dataclass(frozen=True, slots=True)
class Seat:
    """A box: its left edge, the y of its middle, width, lines."""

    key: str
    x: float
    y: float
    width: float
    lines: tuple[str, ...]
    ghost: bool = False

    @property
    def right(self) -> float:
        return round(self.x + self.width, 6)


@dataclass(slots=True)
class Column:
    """The band of one riser: left edge, shaft's right end, left edges and widths of its columns of boxes."""

    riser: Riser
    left: float
    shaft: float
    head_width: float
    starts: list[float]
    widths: list[float]
    right: float


def box_width(lines: Sequence[str]) -> float:
    """The width of a box around lines of text, inches."""
    return up(max(1.0, widest(lines, TEXT, True) + 2 * INSET))


def depth_widths(twigs: Sequence[Twig], lines: Mapping[str, tuple[str, ...]]) -> list[float]:
    """The widest box at every depth of trees."""
    found: list[float] = []
    level = list(twigs)
    while level:
        found.append(max(box_width(lines[twig.key]) for twig in level))
        level = [child for twig in level for child in twig.children]
    return found


def columns(
    risers: Sequence[Riser], lines: Mapping[str, tuple[str, ...]], links: Sequence[Run], callout: Mapping[str, float]
) -> list[Column]:
    """The bands of risers from left to right. `callout`: width of the words of every run to another storey."""
    found = []
    x = 0.0
    for riser in risers:
        key = riser.head.key
        across = [run for run in links if run.source == key]
        lanes = len(riser.served) + len(across)
        shaft = round(x + 0.15 + LANE * max(0, lanes - 1), 6)
        ports = sum(1 for run in links if key in (run.source, run.target))
        need = (shaft - x + 0.15 if lanes else 0.0) + LANE * ports + 0.10
        head = up(max(box_width(lines[key]), need))
        words = max((callout[run.id] for _, run, _ in riser.served), default=0.0)
        start = up(max(x + head + GAP, shaft + words + GAP if words else 0.0))
        widths = depth_widths([*riser.head.children, *(twig for _, _, twig in riser.served)], lines)
        starts = []
        at = start
        for width in widths:
            starts.append(at)
            at = round(at + width + GAP, 6)
        right = round(at - GAP if widths else x + head, 6)
        found.append(Column(riser, x, shaft, head, starts, widths, right))
        x = up(right + 0.60)
    return found


def rows_on(floor: str, risers: Sequence[Riser]) -> int:
    """How many rows a storey needs: the riser with the most of them."""
    most = 1
    for riser in risers:
        here = riser.head.rows if riser.floor == floor else 0
        most = max(most, here + sum(twig.rows for where, _, twig in riser.served if where == floor))
    return most


def tracks(spans: Sequence[tuple[str, float, float]]) -> tuple[dict[str, int], int]:
    """A track for every horizontal wire (id, x, x): the first one where it touches none before it."""
    given: dict[str, int] = {}
    ends: list[float] = []
    for name, one, other in sorted(spans, key=lambda span: (min(span[1:]), span[0])):
        low, high = min(one, other), max(one, other)
        level = next((index for index, end in enumerate(ends) if end + 0.1 < low), len(ends))
        if level == len(ends):
            ends.append(high)
        ends[level] = high
        given[name] = level
    return given, len(ends)


def band_height(rows: int, channel: int) -> float:
    """The height of a storey's band, inches."""
    return up(PAD + rows * ROW + (TRACK * channel + 0.10 if channel else 0.05))


def list_depth(count: int, room: float) -> int:
    """How many lines deep a list of so many feeders is on a sheet of so much room: one to three columns."""
    return -(-count // max(1, min(3, -(-count // 4), int(room / LIST_COLUMN))))


def list_height(count: int, room: float) -> float:
    """The height of that list, its heading with it, inches."""
    return round(0.30 + LINE_PITCH * list_depth(count, room), 4)


def partition(heights: Sequence[tuple[Floor, float]], room: float) -> list[list[Floor]]:
    """Storeys from below, as many on a sheet as fit with room for what comes from other sheets."""
    total = sum(height for _, height in heights)
    if total <= room:
        return [[floor for floor, _ in heights]]
    found: list[list[Floor]] = []
    used = room + 1.0
    for floor, height in reversed(heights):
        if used + height > room - GHOST_FLOOR:
            found.append([])
            used = 0.0
        found[-1].insert(0, floor)
        used += height
    return found
