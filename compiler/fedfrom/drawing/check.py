"""A checker over finished scenes: what a careful drafter would mark in red. An empty answer is a clean drawing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import floor

from fedfrom.drawing.scene import Arc, Circle, Drawing, Group, Label, Point, Polyline, Shape, Sheet
from fedfrom.drawing.shapes import Box, arc_points, bounds, groups
from fedfrom.drawing.sheets import partner

SLACK = 0.004
CELL = 1.0


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault: its kind ("text on text", "text on line", …), the sheet's number, the place in inches, the thing."""

    kind: str
    sheet: str
    at: Point
    what: str


@dataclass(frozen=True, slots=True)
class _Segment:
    start: Point
    end: Point
    layer: str
    link: bool

    @property
    def box(self) -> Box:
        return (
            min(self.start[0], self.end[0]),
            min(self.start[1], self.end[1]),
            max(self.start[0], self.end[0]),
            max(self.start[1], self.end[1]),
        )


@dataclass(slots=True)
class _Flat:
    """A sheet's primitives in absolute coordinates."""

    texts: list[tuple[Label, Box]] = field(default_factory=list)
    segments: list[_Segment] = field(default_factory=list)
    curves: list[_Segment] = field(default_factory=list)
    dots: list[Point] = field(default_factory=list)
    boxes: list[tuple[Box, str]] = field(default_factory=list)
    everything: list[tuple[Box, str]] = field(default_factory=list)


def check(drawing: Drawing) -> tuple[Problem, ...]:
    """Every fault of a drawing, sheet by sheet."""
    found: list[Problem] = []
    for sheet in drawing.sheets:
        flat = _flatten(sheet)
        found += _texts(sheet, flat)
        found += _wires(sheet, flat)
        found += _border(sheet)
        found += _legend(sheet)
    found += _flags(drawing)
    return tuple(found)


def _flatten(sheet: Sheet) -> _Flat:
    flat = _Flat()
    _collect(sheet.shapes, (0.0, 0.0), flat, False)
    return flat


def _collect(shapes: Iterable[Shape], at: Point, flat: _Flat, link: bool) -> None:
    for shape in shapes:
        if isinstance(shape, Group):
            origin = (at[0] + shape.at[0], at[1] + shape.at[1])
            _collect(shape.shapes, origin, flat, link or shape.kind in ("link", "tie"))
        elif isinstance(shape, Label):
            flat.texts.append((shape, bounds(shape, at)))
        elif isinstance(shape, Polyline):
            _collect_line(shape, at, flat, link)
        elif isinstance(shape, Circle) and shape.filled:
            flat.dots.append((shape.center[0] + at[0], shape.center[1] + at[1]))
            _curve(_circle(shape), at, flat, shape.stroke.layer)
        else:
            points = arc_points(shape) if isinstance(shape, Arc) else _circle(shape)
            _curve(points, at, flat, shape.stroke.layer)


def _circle(shape: Circle) -> tuple[Point, ...]:
    return arc_points(Arc(shape.center, shape.radius, 0, 360, shape.stroke), 24)


def _curve(points: Sequence[Point], at: Point, flat: _Flat, layer: str) -> None:
    for one, other in pairwise(points):
        flat.curves.append(_Segment(_plus(one, at), _plus(other, at), layer, False))


def _plus(point: Point, at: Point) -> Point:
    return (point[0] + at[0], point[1] + at[1])


def _collect_line(shape: Polyline, at: Point, flat: _Flat, link: bool) -> None:
    points = [*shape.points, shape.points[0]] if shape.closed else list(shape.points)
    for one, other in pairwise(points):
        flat.segments.append(_Segment(_plus(one, at), _plus(other, at), shape.stroke.layer, link))
    if shape.closed and shape.stroke.layer.startswith(("symbol", "reference")):
        flat.boxes.append((bounds(shape, at), shape.stroke.layer))


# --- text ----------------------------------------------------------------------------------------------------------


class _Index:
    """Boxes by squares of the sheet, so that only neighbours are compared."""

    def __init__(self) -> None:
        self._cells: dict[tuple[int, int], list[int]] = {}

    def add(self, number: int, box: Box) -> None:
        for cell in self._covered(box):
            self._cells.setdefault(cell, []).append(number)

    def near(self, box: Box) -> list[int]:
        covered = list(self._covered(box))
        if len(covered) == 1:
            return self._cells.get(covered[0], [])
        return sorted({number for cell in covered for number in self._cells.get(cell, ())})

    @staticmethod
    def _covered(box: Box) -> Iterator[tuple[int, int]]:
        for i in range(floor(box[0] / CELL), floor(box[2] / CELL) + 1):
            for j in range(floor(box[1] / CELL), floor(box[3] / CELL) + 1):
                yield (i, j)


def _shrunk(box: Box) -> Box:
    return (box[0] + SLACK, box[1] + SLACK, box[2] - SLACK, box[3] - SLACK)


def _overlap(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _texts(sheet: Sheet, flat: _Flat) -> Iterator[Problem]:
    texts = _Index()
    boxes = [_shrunk(box) for _, box in flat.texts]
    for number, (_, box) in enumerate(flat.texts):
        texts.add(number, box)
    for number, (shape, box) in enumerate(flat.texts):
        for other in texts.near(box):
            if other > number and _overlap(boxes[number], boxes[other]):
                yield Problem("text on text", sheet.number, box[:2], f"{shape.text} / {flat.texts[other][0].text}")
    for segment, kind in [*((s, "text on line") for s in flat.segments), *((s, "text on curve") for s in flat.curves)]:
        left, top, right, bottom = around = segment.box
        for other in texts.near(around):
            box = boxes[other]
            # Most of the neighbours are clear of it by far: said first, because it is the whole cost of the check.
            if right < box[0] or left > box[2] or bottom < box[1] or top > box[3]:
                continue
            if _hits(segment, box):
                shape, whole = flat.texts[other]
                yield Problem(kind, sheet.number, whole[:2], f"{shape.text} ({segment.layer})")


def _hits(segment: _Segment, box: Box) -> bool:
    """Whether a segment passes through a box (clipping after Liang and Barsky)."""
    (x1, y1), (x2, y2) = segment.start, segment.end
    enter, leave = 0.0, 1.0
    for delta, low, high, start in ((x2 - x1, box[0], box[2], x1), (y2 - y1, box[1], box[3], y1)):
        if abs(delta) < 1e-12:
            if start <= low or start >= high:
                return False
            continue
        first, second = (low - start) / delta, (high - start) / delta
        enter, leave = max(enter, min(first, second)), min(leave, max(first, second))
    return enter < leave


# --- wires ---------------------------------------------------------------------------------------------------------


def _is_wire(segment: _Segment) -> bool:
    return segment.layer.startswith("wire")


def _wires(sheet: Sheet, flat: _Flat) -> Iterator[Problem]:
    wires = [segment for segment in flat.segments if _is_wire(segment)]
    index = _Index()
    for number, wire in enumerate(wires):
        index.add(number, wire.box)
        if abs(wire.start[0] - wire.end[0]) > 1e-6 and abs(wire.start[1] - wire.end[1]) > 1e-6:
            yield Problem("diagonal wire", sheet.number, wire.start, str(wire.end))
    for number, wire in enumerate(wires):
        for other in index.near(wire.box):
            if other > number and _on_top(wire, wires[other]):
                yield Problem("wire on wire", sheet.number, wire.start, str(wires[other].start))
    yield from _meetings(sheet, flat, wires)
    for box, _ in flat.boxes:
        inside = (box[0] + 0.03, box[1] + 0.03, box[2] - 0.03, box[3] - 0.03)
        for other in index.near(box):
            if inside[0] < inside[2] and inside[1] < inside[3] and _hits(wires[other], inside):
                yield Problem("wire through box", sheet.number, box[:2], str(wires[other].start))


def _upright(segment: _Segment) -> bool:
    return abs(segment.start[0] - segment.end[0]) < 1e-6


def _on_top(one: _Segment, other: _Segment) -> bool:
    """Whether two wires run on top of each other."""
    if _upright(one) != _upright(other):
        return False
    axis, along = (0, 1) if _upright(one) else (1, 0)
    a, b = one.box, other.box
    return abs(a[axis] - b[axis]) < 1e-4 and min(a[along + 2], b[along + 2]) - max(a[along], b[along]) > 0.011


def _whole(wires: Sequence[_Segment], upright: bool) -> list[_Segment]:
    """Wires of one direction, pieces that continue each other joined."""
    axis, along = (0, 1) if upright else (1, 0)
    lanes: dict[float, list[_Segment]] = {}
    for wire in wires:
        if _upright(wire) == upright:
            lanes.setdefault(round(wire.box[axis], 3), []).append(wire)
    joined: list[_Segment] = []
    for lane in lanes.values():
        lane.sort(key=lambda wire: wire.box[along])
        last = lane[0]
        for wire in lane[1:]:
            if wire.box[along] <= last.box[along + 2] + 1e-4:
                end = max(last.box[along + 2], wire.box[along + 2])
                corner = (last.box[0], end) if upright else (end, last.box[1])
                last = _Segment(last.box[:2], corner, last.layer, last.link or wire.link)
            else:
                joined.append(last)
                last = wire
        joined.append(last)
    return joined


def _meetings(sheet: Sheet, flat: _Flat, wires: Sequence[_Segment]) -> Iterator[Problem]:
    """Where wires cross (only wires between blocks may, without a dot) or meet in a tee (which needs a dot)."""
    dots = {(round(x, 3), round(y, 3)) for x, y in flat.dots}
    levels = _whole(wires, False)
    index = _Index()
    for number, level in enumerate(levels):
        index.add(number, level.box)
    for vertical in _whole(wires, True):
        x, top, _, bottom = vertical.box
        for number in index.near(vertical.box):
            level = levels[number]
            left, y, right, _ = level.box
            if not (left - 1e-4 <= x <= right + 1e-4 and top - 1e-4 <= y <= bottom + 1e-4):
                continue
            through = left + 1e-4 < x < right - 1e-4
            across = top + 1e-4 < y < bottom - 1e-4
            if (round(x, 3), round(y, 3)) in dots:
                continue
            if through and across and not (vertical.link or level.link):
                yield Problem("wires cross", sheet.number, (x, y), "none of them runs between blocks")
            elif through != across:
                yield Problem("tee without dot", sheet.number, (x, y), "")


# --- sheet ---------------------------------------------------------------------------------------------------------


def _border(sheet: Sheet) -> Iterator[Problem]:
    """The body stays inside the border and off the title strip; nothing at all leaves the paper."""
    frame = next((group for group in sheet.shapes if isinstance(group, Group) and group.id == "border"), None)
    strip = [bounds(shape) for shape in frame.shapes[:2]] if frame else []
    for shape in sheet.shapes:
        box = bounds(shape)
        if box[0] < -0.01 or box[1] < -0.01 or box[2] > sheet.width + 0.01 or box[3] > sheet.height + 0.01:
            yield Problem("off the paper", sheet.number, box[:2], getattr(shape, "id", ""))
        if isinstance(shape, Group) and shape.kind == "piece" and strip:
            outer, edge = strip
            if box[0] < outer[0] or box[1] < outer[1] or box[2] > edge[0] or box[3] > outer[3]:
                yield Problem("out of the border", sheet.number, box[:2], shape.id)


def _legend(sheet: Sheet) -> Iterator[Problem]:
    """Every symbol of the body stands in the sheet's legend."""
    shown = {g.symbol for shape in sheet.shapes if isinstance(shape, Group) and shape.kind == "legend"
             for g, _ in groups([shape])}  # fmt: skip
    used: dict[str, Point] = {}
    for shape in sheet.shapes:
        if isinstance(shape, Group) and shape.kind == "piece":
            for group, at in groups([shape]):
                if group.symbol:
                    used.setdefault(group.symbol, at)
    for name, at in used.items():
        if name not in shown:
            yield Problem("not in the legend", sheet.number, at, name)


def _flags(drawing: Drawing) -> Iterator[Problem]:
    """Every flag has its partner, and no id is used twice."""
    places: dict[str, list[tuple[str, Point]]] = {}
    for sheet in drawing.sheets:
        for group, at in groups(sheet.shapes):
            if group.kind == "flag":
                places.setdefault(group.id, []).append((sheet.number, at))
    for name, found in places.items():
        number, at = found[0]
        if len(found) > 1:
            yield Problem("flag twice", number, at, name)
        if partner(name) not in places:
            yield Problem("flag without partner", number, at, name)
