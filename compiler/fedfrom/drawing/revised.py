"""Revision marks: a triangle with the revision's mark beside the thing, and a cloud round both."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from fedfrom.drawing.scene import Arc, Group, Point, Polyline, Shape, Stroke
from fedfrom.drawing.shapes import Box, bounds, label, union, widest
from fedfrom.drawing.style import TAG_TEXT
from fedfrom.drawing.symbols import named

SIDE = 0.30
HEIGHT = 0.26
MARGIN = 0.06
"""Clear space between a thing and its cloud, inches."""
SCALLOP = 0.17
"""About how long one bow of a cloud is, inches."""
REVISION = Stroke(0.30, (), "revision")


def triangle(mark: str) -> Group:
    """The triangle with its mark; (0, 0) is the middle of its base. A long mark makes it larger."""
    side = max(SIDE, round(widest((mark,), TAG_TEXT, True) * 2 + 0.16, 3))
    height = round(side * HEIGHT / SIDE, 4)
    outline = Polyline(((-side / 2, 0.0), (side / 2, 0.0), (0.0, -height)), REVISION, closed=True)
    words = label(mark, (0.0, -0.045), TAG_TEXT, True, anchor="middle", layer="revision")
    return named("revision", (outline, words), (("REVISION", mark),))


def cloud(box: Box) -> Group:
    """Bows along a box, bulging outward."""
    left, top, right, bottom = box
    sides = (
        ((left, top), (right, top), 180.0),
        ((right, top), (right, bottom), 270.0),
        ((right, bottom), (left, bottom), 0.0),
        ((left, bottom), (left, top), 90.0),
    )
    return Group((0.0, 0.0), tuple(bow for side in sides for bow in _bows(*side)), kind="cloud")


def _bows(start: Point, end: Point, first_deg: float) -> list[Arc]:
    """Flat bows of a third of a turn between two points; angles are clockwise from +x, y down."""
    length = abs(end[0] - start[0]) + abs(end[1] - start[1])
    count = max(2, ceil(length / SCALLOP))
    step = (end[0] - start[0]) / count, (end[1] - start[1]) / count
    chord = length / count
    # A bow of 120 degrees: its radius is chord / sqrt 3, its centre half a radius inside the box.
    radius = round(chord / 3**0.5, 5)
    unit = step[0] / chord, step[1] / chord
    inward = (-unit[1], unit[0])
    found = []
    for number in range(count):
        x = start[0] + step[0] * (number + 0.5) + inward[0] * radius / 2
        y = start[1] + step[1] * (number + 0.5) + inward[1] * radius / 2
        turned = (first_deg + 30.0) % 360.0
        found.append(Arc((round(x, 5), round(y, 5)), radius, turned, turned + 120.0, REVISION))
    return found


def revised(shapes: Sequence[Shape], mark: str) -> list[Shape]:
    """The shapes with a triangle at their upper right and a cloud round all, where there is a mark.

    The cloud is drawn with them, so that neighbours keep clear of it.
    """
    if not mark or not shapes:
        return list(shapes)
    left, top, right, bottom = union(bounds(shape) for shape in shapes)
    mine = triangle(mark)
    size = bounds(mine)
    placed = Group((round(right + 0.08 - size[0], 4), round(top - size[1], 4)), (mine,), kind="revision")
    around = union([(left, top, right, bottom), bounds(placed)])
    wide = (around[0] - MARGIN, around[1] - MARGIN, around[2] + MARGIN, around[3] + MARGIN)
    return [*shapes, placed, cloud(wide)]
