"""What stands under the plan of a room: the outcome in words, and a table of the equipment."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.drawing.lettering import capitals, wrap
from fedfrom.drawing.scaled import feet_text
from fedfrom.drawing.scene import Shape, Stroke
from fedfrom.drawing.shapes import label, line
from fedfrom.drawing.style import NOTE_TEXT
from fedfrom.results.assembly import RoomItem, RoomResult
from fedfrom.results.notation import amperes_text

COLUMNS: tuple[tuple[str, float], ...] = (
    ("NO.", 0.4),
    ("TAG", 1.1),
    ("EQUIPMENT", 1.7),
    ("W x D x H, IN", 1.2),
    ("RATED", 0.7),
    ("V TO GROUND", 0.9),
    ("CONDITION", 1.3),
    ("WORKING SPACE", 1.3),
    ("ENTRANCES", 0.9),
)
ROW = 0.16
RULE = Stroke(0.30, (), "note")
NONE = "-"


def verdict_lines(room: RoomResult) -> Iterator[str]:
    """Whether the room fits, what is missing, what was assumed, what the doors must be."""
    if room.fits is True:
        yield "FITS: wall length, depth, height."
    elif room.fits is False:
        yield f"DOES NOT FIT: {'; '.join(room.misfits)}."
    elif room.needs:
        yield f"NOT CHECKED: needs {'; '.join(room.needs).replace('`', '')}."
    wall = f", wall taken by equipment {feet_text(room.wall_needed_ft)}" if room.wall_needed_ft is not None else ""
    height = feet_text(room.height_ft) if room.height_ft is not None else "not stated"
    yield f"Height {height}, facing {room.facing or 'not stated'}{wall}."
    hardware = ", with panic hardware, opening out (within 25 ft)" if room.panic_hardware_needed else ""
    yield f"Entrances to the working space needed: {room.entrances_needed}{hardware}. Doors stated: {_doors(room)}."
    if room.assumed:
        yield f"Taken: {'; '.join(room.assumed).replace('`', '')}."


def _doors(room: RoomResult) -> str:
    if not room.doors:
        return "none"
    return "; ".join(
        ", ".join(
            part
            for part in (
                feet_text(door.width_ft),
                f"swings {door.swings}" if door.swings else "swing not stated",
                "panic hardware" if door.panic_hardware else "",
            )
            if part
        )
        for door in room.doors
    )


def table_shapes(room: RoomResult, left: float, top: float) -> list[Shape]:
    """The table, its top left corner at (left, top)."""
    shapes: list[Shape] = []
    right = left + sum(width for _, width in COLUMNS)
    y = top
    for place, row in enumerate((tuple(head for head, _ in COLUMNS), *_rows(room))):
        head = place == 0
        x = left
        for text, (_, width) in zip(row, COLUMNS, strict=True):
            lines = wrap(text, width - 0.08, NOTE_TEXT, head, most=1)
            if lines:
                shapes.append(label(lines[0], (round(x + 0.02, 4), round(y + NOTE_TEXT, 4)), NOTE_TEXT, head))
            x += width
        if head:
            shapes.append(line(left, round(y + NOTE_TEXT + 0.05, 4), right, round(y + NOTE_TEXT + 0.05, 4), RULE))
            y += 0.05
        y = round(y + ROW, 4)
    return shapes


def _rows(room: RoomResult) -> Iterator[tuple[str, ...]]:
    for number, item in enumerate(room.items, 1):
        yield (
            f"{number}",
            capitals(item.tag),
            capitals(item.kind),
            _size(item),
            amperes_text(item.rated_a) if item.rated_a is not None else NONE,
            f"{item.volts_to_ground:g} V" if item.volts_to_ground is not None else "NOT KNOWN",
            _condition(item),
            _space(item),
            ("2" if item.two_entrances else "1") if item.work_depth_ft is not None else NONE,
        )


def _size(item: RoomItem) -> str:
    sides = (item.width_in, item.depth_in, item.height_in)
    if None in sides:
        return "NOT KNOWN"
    text = " x ".join(f"{side:g}" for side in sides if side is not None)
    return text if item.left_ft is not None else f"{text} NOT PLACED"


def _condition(item: RoomItem) -> str:
    if item.work_depth_ft is None:
        return NONE
    return f"{item.condition}" if item.condition is not None else "NOT STATED, 3 TAKEN"


def _space(item: RoomItem) -> str:
    if item.work_depth_ft is None or item.work_width_ft is None:
        return NONE
    return f"{feet_text(item.work_width_ft)} x {feet_text(item.work_depth_ft)}"
