"""Making shapes, and reading them back: walking nested groups, bounding boxes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from math import cos, radians, sin
from typing import TypeAlias

from fedfrom.drawing.lettering import measure, printable
from fedfrom.drawing.scene import Arc, Circle, Group, Label, Point, Polyline, Shape, Stroke
from fedfrom.drawing.style import LINE_PITCH, TEXT

Primitive: TypeAlias = Polyline | Circle | Arc | Label
Box: TypeAlias = tuple[float, float, float, float]
"""Left, top, right, bottom, in inches."""

DESCENT = 0.22
"""How far commas, brackets and small letters may reach below the baseline, in cap heights."""


def line(x1: float, y1: float, x2: float, y2: float, stroke: Stroke) -> Polyline:
    """One straight segment."""
    return Polyline(((x1, y1), (x2, y2)), stroke)


def rectangle(left: float, top: float, right: float, bottom: float, stroke: Stroke) -> Polyline:
    """A closed rectangle."""
    return Polyline(((left, top), (right, top), (right, bottom), (left, bottom)), stroke, closed=True)


def label(
    text: str,
    at: Point,
    height: float = TEXT,
    bold: bool = False,
    anchor: str = "start",
    turn: int = 0,
    layer: str = "text",
) -> Label:
    """A measured line of text; characters that the font lacks are replaced."""
    clean = printable(text)
    return Label(at, clean, height, round(measure(clean, height, bold), 4), bold, anchor, turn, layer)


LOUD = ("NOT KNOWN", "NOT ESTABLISHED")
"""A line with one of these is lettered bold, so that it is not overlooked."""


def _bold(text: str, index: int, bold_first: bool) -> bool:
    return (bold_first and index == 0) or ("NOT " in text and any(words in text for words in LOUD))


def text_block(
    lines: Sequence[str],
    x: float,
    top: float,
    height: float = TEXT,
    pitch: float = LINE_PITCH,
    bold_first: bool = False,
    anchor: str = "start",
    layer: str = "text",
) -> tuple[Label, ...]:
    """Lines of text under each other; the capitals of the first line touch `top`."""
    return tuple(
        label(text, (x, top + height + index * pitch), height, _bold(text, index, bold_first), anchor, layer=layer)
        for index, text in enumerate(lines)
        if text
    )


def turned_block(
    lines: Sequence[str],
    left: float,
    bottom: float,
    height: float = TEXT,
    pitch: float = LINE_PITCH,
    bold_first: bool = False,
    anchor: str = "start",
) -> tuple[Label, ...]:
    """Lines that read from the right side of the sheet: they start at `bottom`, each right of the one before."""
    return tuple(
        label(text, (left + height + index * pitch, bottom), height, _bold(text, index, bold_first), anchor, turn=90)
        for index, text in enumerate(lines)
        if text
    )


def widest(lines: Iterable[str], height: float = TEXT, bold_first: bool = False) -> float:
    """The width of the widest line in inches, 0 for none."""
    return max(
        (measure(printable(text), height, _bold(text, index, bold_first)) for index, text in enumerate(lines)),
        default=0.0,
    )


def block_height(count: int, height: float = TEXT, pitch: float = LINE_PITCH) -> float:
    """The height in inches of `count` lines of text, from the top of the first capitals to the last baseline."""
    return height + (count - 1) * pitch if count else 0.0


def walk(shapes: Iterable[Shape], at: Point = (0.0, 0.0)) -> Iterator[tuple[Primitive, Point]]:
    """Every shape that is not a group, with the offset of the groups around it."""
    pending = [(iter(shapes), at)]
    while pending:
        rest, origin = pending[-1]
        for shape in rest:
            if isinstance(shape, Group):
                pending.append((iter(shape.shapes), (origin[0] + shape.at[0], origin[1] + shape.at[1])))
                break
            yield shape, origin
        else:
            pending.pop()


def groups(shapes: Iterable[Shape], at: Point = (0.0, 0.0)) -> Iterator[tuple[Group, Point]]:
    """Every group, outer ones first, with its absolute origin."""
    pending = [(iter(shapes), at)]
    while pending:
        rest, origin = pending[-1]
        for shape in rest:
            if isinstance(shape, Group):
                inner = (origin[0] + shape.at[0], origin[1] + shape.at[1])
                yield shape, inner
                pending.append((iter(shape.shapes), inner))
                break
        else:
            pending.pop()


@lru_cache(maxsize=4096)
def arc_points(arc: Arc, count: int = 8) -> tuple[Point, ...]:
    """Points on an arc, ends included."""
    span = arc.end_deg - arc.start_deg
    angles = [radians(arc.start_deg + span * step / count) for step in range(count + 1)]
    return tuple((arc.center[0] + arc.radius * cos(a), arc.center[1] + arc.radius * sin(a)) for a in angles)


def _label_box(shape: Label) -> Box:
    shift = 0.0 if shape.anchor == "start" else -shape.width if shape.anchor == "end" else -shape.width / 2
    x, y = shape.at
    if shape.turn == 90:
        return (x - shape.height, y - shift - shape.width, x + DESCENT * shape.height, y - shift)
    return (x + shift, y - shape.height, x + shift + shape.width, y + DESCENT * shape.height)


def _segment_box(one: Point, other: Point, pad: float, at: Point) -> Box:
    left, right = (one[0], other[0]) if one[0] <= other[0] else (other[0], one[0])
    top, bottom = (one[1], other[1]) if one[1] <= other[1] else (other[1], one[1])
    return (left - pad + at[0], top - pad + at[1], right + pad + at[0], bottom + pad + at[1])


def bounds(shape: Shape, at: Point = (0.0, 0.0)) -> Box:
    """The bounding box of a shape, line thickness included."""
    if isinstance(shape, Group):
        return union(bounds(part, (at[0] + shape.at[0], at[1] + shape.at[1])) for part in shape.shapes)
    if isinstance(shape, Label):
        box = _label_box(shape)
    elif isinstance(shape, Circle):
        (x, y), r = shape.center, shape.radius
        box = (x - r, y - r, x + r, y + r)
    else:
        points = shape.points if isinstance(shape, Polyline) else arc_points(shape)
        pad = shape.stroke.weight_mm / 50.8
        if len(points) == 2:
            return _segment_box(points[0], points[1], pad, at)
        box = (
            min(p[0] for p in points) - pad,
            min(p[1] for p in points) - pad,
            max(p[0] for p in points) + pad,
            max(p[1] for p in points) + pad,
        )
    return (box[0] + at[0], box[1] + at[1], box[2] + at[0], box[3] + at[1])


def union(boxes: Iterable[Box]) -> Box:
    """The box around boxes; all zero for none."""
    found = list(boxes)
    if not found:
        return (0.0, 0.0, 0.0, 0.0)
    return (
        min(b[0] for b in found),
        min(b[1] for b in found),
        max(b[2] for b in found),
        max(b[3] for b in found),
    )
