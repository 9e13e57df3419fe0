"""Plans of the rooms, to scale, with working spaces and doors: `room_plans(results) -> Drawing`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fedfrom.drawing.lettering import capitals, wrap
from fedfrom.drawing.papers import Paper, paper_named
from fedfrom.drawing.room_table import table_shapes, verdict_lines
from fedfrom.drawing.room_walls import WALL, door_shapes, wall_shapes
from fedfrom.drawing.scaled import View, across, feet_text, scale_for, shelves, upright
from fedfrom.drawing.scene import Drawing, Group, Label, Shape, Stroke
from fedfrom.drawing.shapes import bounds, label, line, rectangle, text_block, union
from fedfrom.drawing.sheet_set import Body, framed
from fedfrom.drawing.style import NOTE_PITCH, NOTE_TEXT, TAG_TEXT, TEXT, TITLE_TEXT, pen
from fedfrom.drawing.words import words
from fedfrom.model.items import Status
from fedfrom.results.assembly import PLANNING, RoomItem, RoomResult
from fedfrom.results.types import Results

FIRST_SHEET = 401
"""Rooms are sheets E-401 and up: type 4, large-scale views, of the Uniform Drawing System (from memory)."""
LARGEST = 0.375
TABLE_WIDTH = 9.6
CLEARANCE = Stroke(0.30, (0.10, 0.05), "clearance")


@dataclass(frozen=True, slots=True)
class Frame:
    """Where a room's north-west corner stands on paper, and inches of paper for a foot."""

    x: float
    y: float
    factor: float

    def box(self, left: float, top: float, right: float, bottom: float) -> tuple[float, float, float, float]:
        return (
            round(self.x + left * self.factor, 4),
            round(self.y + top * self.factor, 4),
            round(self.x + right * self.factor, 4),
            round(self.y + bottom * self.factor, 4),
        )


def room_plans(results: Results) -> Drawing:
    """Every room with a size, in source order. No sheets where there is none."""
    title = words("titles")["rooms"]
    paper = paper_named(results.project.sheet_size)
    rooms = [room for room in results.rooms.values() if room.items]
    drawn = [room for room in rooms if room.length_ft is not None and room.width_ft is not None]
    views = [_view(room, paper) for room in drawn]
    notes = _notes(results, drawn, [room.tag for room in rooms if room not in drawn])
    bodies = [
        Body(f"E-{FIRST_SHEET + index}", page, shapes, title, "", notes, "AS NOTED")
        for index, (page, shapes) in enumerate(shelves(views, paper))
    ]
    return framed("rooms", bodies, results)


def _notes(results: Results, drawn: Sequence[RoomResult], left_out: Sequence[str]) -> tuple[str, ...]:
    text = words("room-notes")
    code = capitals(results.project.code)
    bases = list(dict.fromkeys(item.basis for room in drawn for item in room.items))
    found = [text["claim"], text["space"].format(clause=f"{code}, 110.26(A)")]
    found.append(text["dedicated"].format(clause=f"{code}, 110.26(E)"))
    found += [text["planning" if basis == PLANNING else "own"].format(basis=capitals(basis)) for basis in bases]
    if left_out:
        found.append(text["missing"].format(tags=", ".join(left_out)))
    return tuple(found)


def _view(room: RoomResult, paper: Paper) -> View:
    """The plan, its dimensions and title, and under it the table of what stands in the room."""
    length, width = room.length_ft or 0.0, room.width_ft or 0.0
    table = 0.6 + 0.16 * (len(room.items) + 12)
    scale, factor = scale_for(length, width, (3.2, table + 3.2), paper, LARGEST)
    plan = _plan(room, Frame(0.0, 0.0, factor))
    outer = union([bounds(shape) for shape in plan])
    side = outer[0] - 0.30
    above = outer[1] - 0.20
    dimensions = [
        *across(0.0, length * factor, above, feet_text(length)),
        *upright(side, 0.0, width * factor, feet_text(width)),
    ]
    everything = [*plan, *dimensions]
    box = union([bounds(shape) for shape in everything])
    y = box[3] + 0.25
    name = capitals(" ".join(part for part in (room.tag, room.title) if part))
    level = f", LEVEL {capitals(room.level)}" if room.level else ""
    everything += text_block([f"{name}{level}, SCALE {scale}"], box[0], y, TITLE_TEXT, bold_first=True)
    y += TITLE_TEXT + 0.12
    lines = [line_text for text in verdict_lines(room) for line_text in wrap(capitals(text), TABLE_WIDTH, NOTE_TEXT)]
    everything += text_block(lines, box[0], y, NOTE_TEXT, NOTE_PITCH)
    y += NOTE_PITCH * len(lines) + 0.15
    everything += table_shapes(room, box[0], y)
    everything += _north(box[2] + 0.35, box[1] + 0.55)
    return _moved(room.tag, everything, scale)


def _moved(key: str, shapes: Sequence[Shape], scale: str) -> View:
    """The shapes moved so that their top left corner is the origin."""
    left, top, right, bottom = union([bounds(shape) for shape in shapes])
    group = Group((round(-left, 4), round(-top, 4)), tuple(shapes), key, "room")
    return View(key, (group,), right - left, bottom - top, scale)


def _plan(room: RoomResult, frame: Frame) -> list[Shape]:
    shapes: list[Shape] = [*wall_shapes(room, frame.factor)]
    for door in room.doors:
        shapes += door_shapes(room, door, frame.factor)
    spaces = [item.work for item in room.items if item.work is not None]
    shapes += [rectangle(*frame.box(*work), CLEARANCE) for work in dict.fromkeys(spaces)]
    for number, item in enumerate(room.items, 1):
        shapes += _item(room, number, item, frame)
    for item in room.items:
        shapes += _depth(item, room, frame)
    return shapes


def _footprint(item: RoomItem) -> tuple[float, float, float, float] | None:
    """The place of an item in feet, None where the plan found none."""
    sides = (item.left_ft, item.top_ft, item.right_ft, item.bottom_ft)
    left, top, right, bottom = sides
    if left is None or top is None or right is None or bottom is None:
        return None
    return left, top, right, bottom


def _item(room: RoomResult, number: int, item: RoomItem, frame: Frame) -> list[Shape]:
    """The footprint, and outside of the wall the item's number and tag."""
    place = _footprint(item)
    if place is None:
        return []
    stroke = pen(Status(item.status)).box
    tail = stroke.layer.removeprefix("symbol")
    stroke = Stroke(stroke.weight_mm, stroke.dash, f"equipment{tail}")
    box = frame.box(*place)
    return [
        *_rear(item, place, frame),
        rectangle(*box, stroke),
        *_names(number, item, box, room, frame.factor),
    ]


def _rear(item: RoomItem, place: tuple[float, float, float, float], frame: Frame) -> list[Shape]:
    """The space behind gear with rear access, and its depth."""
    if not item.rear_ft:
        return []
    left, top, right, bottom = place
    behind = {
        "south": (left, bottom, right, bottom + item.rear_ft),
        "west": (left - item.rear_ft, top, left, bottom),
        "east": (right, top, right + item.rear_ft, bottom),
    }.get(item.wall, (left, top - item.rear_ft, right, top))
    box = frame.box(*behind)
    shapes: list[Shape] = [rectangle(*box, CLEARANCE)]
    text = label(f"REAR {feet_text(item.rear_ft)}", ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2 + TAG_TEXT / 2),
                 TAG_TEXT, anchor="middle")  # fmt: skip
    if text.width < box[2] - box[0] - 0.1 and box[3] - box[1] > TAG_TEXT + 0.1:
        shapes.append(text)
    return shapes


def _names(
    number: int, item: RoomItem, box: tuple[float, float, float, float], room: RoomResult, factor: float
) -> list[Shape]:
    """Number and tag; in a small free-standing footprint the number alone, and in a tiny one nothing."""
    full = _name(f"{number} {capitals(item.tag)}", item, box, room, factor)
    if item.wall != "center":
        return [full]
    for text in (full, _name(f"{number}", item, box, room, factor)):
        if text.width < box[2] - box[0] - 0.06 and text.height < box[3] - box[1] - 0.07:
            return [text]
    return []


def _name(text: str, item: RoomItem, box: tuple[float, float, float, float], room: RoomResult, factor: float) -> Label:
    """Where the number and tag stand: beyond the wall behind the item; free-standing ones have it inside."""
    left, top, right, bottom = box
    across_x, across_y = (left + right) / 2, (top + bottom) / 2
    off = WALL * factor + 0.08
    length, width = (room.length_ft or 0.0) * factor, (room.width_ft or 0.0) * factor
    if item.wall == "west":
        return label(text, (-off, across_y + TEXT / 2), TEXT, anchor="end")
    if item.wall == "east":
        return label(text, (length + off, across_y + TEXT / 2), TEXT)
    flat = label(text, (across_x, -off), TEXT, anchor="middle")
    if item.wall == "center":
        return label(text, (across_x, across_y + TEXT / 2), TEXT, anchor="middle")
    fits = flat.width < right - left - 0.06
    if item.wall == "north":
        return flat if fits else label(text, (across_x + TEXT / 2, -off), TEXT, turn=90)
    if fits:
        return label(text, (across_x, width + off + TEXT), TEXT, anchor="middle")
    return label(text, (across_x + TEXT / 2, width + off), TEXT, anchor="end", turn=90)


def _depth(item: RoomItem, room: RoomResult, frame: Frame) -> list[Shape]:
    """The depth of the working space written into it, where no other space or thing covers the text."""
    if item.work is None or item.work_depth_ft is None:
        return []
    left, top, right, bottom = frame.box(*item.work)
    text = label(feet_text(item.work_depth_ft), ((left + right) / 2, (top + bottom) / 2 + TAG_TEXT / 2), TAG_TEXT,
                 anchor="middle")  # fmt: skip
    if text.width > right - left - 0.1 or bottom - top - 0.1 < TAG_TEXT:
        return []
    own = bounds(text)
    for other in room.items:
        rects = [other.work] if other is not item and other.work != item.work else []
        rects.append(_footprint(other))
        for rect in rects:
            if rect is not None and _touch(own, frame.box(*rect)):
                return []
    return [text]


def _touch(one: tuple[float, float, float, float], other: tuple[float, float, float, float]) -> bool:
    gap = 0.03
    return one[0] < other[2] + gap and other[0] < one[2] + gap and one[1] < other[3] + gap and other[1] < one[3] + gap


def _north(x: float, y: float) -> list[Shape]:
    """The north arrow: the plan's own north, as the text names walls."""
    stroke = Stroke(0.35, (), "dimension")
    return [
        line(x, y, x, y - 0.4, stroke),
        line(x, y - 0.4, x - 0.07, y - 0.25, stroke),
        line(x, y - 0.4, x + 0.07, y - 0.25, stroke),
        label("N", (x, y - 0.45), TEXT, True, anchor="middle"),
    ]
