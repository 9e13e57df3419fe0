"""Walls with openings, and doors with the way they swing."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.drawing.scene import Arc, Shape, Stroke
from fedfrom.drawing.shapes import line
from fedfrom.results.assembly import RoomDoor, RoomResult

WALL = 0.5
"""Thickness of walls as drawn, ft: the text does not state it."""
WALL_LINE = Stroke(0.70, (), "wall")
DOOR_LINE = Stroke(0.35, (), "door")
Span = tuple[float, float]


def wall_shapes(room: RoomResult, factor: float) -> Iterator[Shape]:
    """The inner and outer face of each wall, broken at its doors, with jambs."""
    length, width = (room.length_ft or 0.0) * factor, (room.width_ft or 0.0) * factor
    thick = WALL * factor
    for wall in ("north", "south", "west", "east"):
        along = length if wall in ("north", "south") else width
        openings = sorted(
            (door.start_ft * factor, (door.start_ft + door.width_ft) * factor)
            for door in room.doors
            if door.wall == wall and door.start_ft is not None
        )
        for start, end in _between(openings, 0.0, along):
            yield _face(wall, start, end, 0.0, (length, width))
        for start, end in _between(openings, -thick, along + thick):
            yield _face(wall, start, end, -thick, (length, width))
        for edge in (edge for opening in openings for edge in opening):
            yield line(
                *_point(wall, edge, 0.0, (length, width)), *_point(wall, edge, -thick, (length, width)), WALL_LINE
            )


def _between(openings: list[Span], start: float, end: float) -> Iterator[Span]:
    for first, last in openings:
        if first > start:
            yield start, first
        start = max(start, last)
    if end > start:
        yield start, end


def _point(wall: str, along: float, inward: float, size: Span) -> Span:
    """A point by its distance along a wall and from its inner face."""
    length, width = size
    if wall == "north":
        return round(along, 4), round(inward, 4)
    if wall == "south":
        return round(along, 4), round(width - inward, 4)
    if wall == "west":
        return round(inward, 4), round(along, 4)
    return round(length - inward, 4), round(along, 4)


def _face(wall: str, start: float, end: float, inward: float, size: Span) -> Shape:
    return line(*_point(wall, start, inward, size), *_point(wall, end, inward, size), WALL_LINE)


# Angle on paper (clockwise from +x) of the direction into the room, and along the wall from the start.
_INTO = {"north": 90.0, "south": 270.0, "west": 0.0, "east": 180.0}
_ALONG = {"north": 0.0, "south": 0.0, "west": 90.0, "east": 90.0}


def door_shapes(room: RoomResult, door: RoomDoor, factor: float) -> Iterator[Shape]:
    """The leaf, open at a right angle, and its arc; a way to swing that is not stated is drawn as a bare opening."""
    if door.start_ft is None or door.swings not in ("in", "out"):
        return
    size = ((room.length_ft or 0.0) * factor, (room.width_ft or 0.0) * factor)
    radius = door.width_ft * factor
    inward = 0.0 if door.swings == "in" else -WALL * factor
    hinge = _point(door.wall, door.start_ft * factor, inward, size)
    tip = _point(door.wall, door.start_ft * factor, inward + (radius if door.swings == "in" else -radius), size)
    yield line(*hinge, *tip, DOOR_LINE)
    along = _ALONG[door.wall]
    away = _INTO[door.wall] if door.swings == "in" else (_INTO[door.wall] + 180.0) % 360.0
    turn = (away - along + 180.0) % 360.0 - 180.0
    start, end = (along, along + turn) if turn > 0 else (along + turn, along)
    yield Arc(hinge, radius, start, end, DOOR_LINE)
