"""A door of a room with large gear does not open at a push outward."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.protection import gear_rule
from fedfrom.results.assembly import RoomDoor, RoomItem, RoomResult
from fedfrom.rules.placed_loads import listing
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.room_facts import needs_rooms, reach_rooms, rooms_with_gear, worked_on
from fedfrom.rules.support import breach, not_checked


def check(design: Design) -> Iterator[Finding]:
    clause = design.edition.clause("110.26(C)(3)")
    reach_ft = gear_rule(design.edition, "panic_hardware_distance") or 25.0
    for room in rooms_with_gear(design):
        gear = [item for item in worked_on(room) if item.panic_hardware]
        large = [item.tag for item in gear]
        if not large:
            continue
        if not room.doors:
            yield not_checked("panic-hardware", room.tag, f"the `door` lines of room {room.tag}", room.span, clause)
        for door in room.doors:
            if (door.swings == "out" and door.panic_hardware) or _surely_far(room, door, gear, reach_ft):
                continue
            lacks = "no panic hardware" if door.swings == "out" else "does not swing out"
            yield breach(
                "panic-hardware",
                room.tag,
                f"{room.tag}: a {door.width_ft:g} ft door {'has ' if lacks.startswith('no ') else ''}{lacks}, "
                f"with {listing(large)} in the room",
                door.span or room.span,
                clause,
                (f"it holds for doors less than {reach_ft:g} ft from the working space",),
                "write `swings out, panic hardware` on the door; or name the walls of both if they are farther apart",
            )


def _surely_far(room: RoomResult, door: RoomDoor, gear: Iterable[RoomItem], reach_ft: float) -> bool:
    """Whether every place on the wall of a door is at least the reach from the working space of gear.

    Only where the text names the walls of the door and of all that gear: a place that the plan chose proves nothing.
    """
    if not door.pinned or room.length_ft is None or room.width_ft is None:
        return False
    for item in gear:
        if not item.pinned or item.work is None:
            return False
        left, top, right, bottom = item.work
        apart = {
            "west": left,
            "east": room.length_ft - right,
            "north": top,
            "south": room.width_ft - bottom,
        }
        if apart.get(door.wall, 0.0) < reach_ft:
            return False
    return True


RULE = Rule(
    id="panic-hardware",
    severity=Severity.ERROR,
    title="a door of a room with large gear does not open at a push outward",
    why="Somebody burned does not turn a knob. Near gear of 800 A and more the door opens outward at a push.",
    clause="110.26(C)(3)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
room E1 "Electrical" {
    size    18 ft x 12 ft
    height  10 ft
    facing  concrete
    door    3 ft, swings in
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       E1, north wall
    equipment   "Kiln"          30 A, 480 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
room E1 "Electrical" {
    size    18 ft x 12 ft
    height  10 ft
    facing  concrete
    door    3 ft, swings out, panic hardware
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       E1, north wall
    equipment   "Kiln"          30 A, 480 V 3-phase, 60 ft
}
""",
    check=check,
    life_safety=True,
    applies=reach_rooms,
    needs=needs_rooms,
)
