"""Large gear has a working space with one way out."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.protection import gear_rule
from fedfrom.results.assembly import RoomItem, RoomResult
from fedfrom.rules.placed_loads import listing
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.room_facts import needs_rooms, reach_rooms, rooms_with_gear, worked_on
from fedfrom.rules.support import breach, not_checked

GROUP_SINCE = 2020  # several service disconnects are taken together (from memory)


def check(design: Design) -> Iterator[Finding]:
    clause = design.edition.clause("110.26(C)(2)")
    least_in = gear_rule(design.edition, "entrance_size_width") or 24.0
    for room in rooms_with_gear(design):
        large = [item for item in worked_on(room) if item.two_entrances]
        found = _one_piece(large, room) if large else _together(design, room)
        if found is None:
            continue
        item, what, needed = found
        entrances = [door for door in room.doors if door.width_ft * 12 >= least_in]
        if not room.doors:
            yield not_checked("two-entrances", room.tag, f"the `door` lines of room {room.tag}", room.span, clause)
        elif len(entrances) < needed:
            only = "but one door only" if len(room.doors) == 1 else f"but fewer than {needed} doors of {least_in:g} in"
            yield breach(
                "two-entrances",
                item.tag,
                f"{what}, {only}",
                item.span or room.span,
                clause,
                (f"gear: {item.basis}", "twice the working depth in front would do too"),
                f"add a door of {least_in:g} in or more at the other end, or make the space in front twice as deep",
            )


Found = tuple[RoomItem, str, int]


def _one_piece(large: list[RoomItem], room: RoomResult) -> Found:
    item = large[0]
    wide = (item.width_in or 0) / 12
    return item, f"{item.tag} in {room.tag}: {item.rated_a or 0:g} A and {wide:.1f} ft wide", room.entrances_needed


def _together(design: Design, room: RoomResult) -> Found | None:
    """The service disconnects of a room, together as large as one piece of large gear; None where they are not."""
    gear = design.results.gear
    group = [item for item in worked_on(room) if item.tag in gear and gear[item.tag].service_equipment]
    mains = {item.tag: gear[item.tag].main for item in group}
    amperes = sum(main.protects_a if (main := mains[item.tag]) else item.rated_a or 0 for item in group)
    wide = sum(item.width_in or 0 for item in group) / 12
    least_a = gear_rule(design.edition, "two_entrances_rating") or 1200.0
    least_ft = gear_rule(design.edition, "two_entrances_width") or 6.0
    if design.edition.year < GROUP_SINCE or len(group) < 2 or amperes < least_a or wide <= least_ft:
        return None
    if len(group) == len(room.items) and all(_deep(room, item) for item in group):
        return None
    tags = listing([item.tag for item in group])
    return group[0], f"the service disconnects {tags} in {room.tag}: {amperes:g} A and {wide:.1f} ft together", 2


def _deep(room: RoomResult, item: RoomItem) -> bool:
    """Whether a room with nothing else in it leaves twice the working depth in front of an item."""
    size = (room.length_ft, room.width_ft, item.left_ft, item.top_ft, item.right_ft, item.bottom_ft)
    if any(each is None for each in size) or item.work_depth_ft is None:
        return False
    length, width, left, top, right, bottom = (float(each or 0) for each in size)
    clear = {"north": width - bottom, "south": top, "west": length - right, "east": left}
    return clear.get(item.wall, 0.0) >= 2 * item.work_depth_ft


RULE = Rule(
    id="two-entrances",
    severity=Severity.ERROR,
    title="large gear has a working space with one way out",
    why=(
        "An arc in the middle of a long board cuts the only way out. From 1200 A and over 6 ft there is one "
        "at each end; the service disconnects of a room count together."
    ),
    clause="110.26(C)(2)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
room E1 "Electrical" {
    size    18 ft x 9 ft
    height  10 ft
    facing  concrete
    door    3 ft, swings out, panic hardware
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    metering    utility
    main        breaker 1200 A, LSIG, arc reduction maintenance switch
    sections    3
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
    size    18 ft x 9 ft
    height  10 ft
    facing  concrete
    door    3 ft, swings out, panic hardware
    door    3 ft, swings out, panic hardware
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    metering    utility
    main        breaker 1200 A, LSIG, arc reduction maintenance switch
    sections    3
    place       E1, north wall
    equipment   "Kiln"          30 A, 480 V 3-phase, 60 ft
}
""",
    check=check,
    life_safety=True,
    applies=reach_rooms,
    needs=needs_rooms,
)
