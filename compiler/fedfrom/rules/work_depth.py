"""The working space in front of gear is not deep enough."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.results.assembly import RoomItem
from fedfrom.rules.placed_loads import listing
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.room_facts import needs_rooms, reach_rooms, rooms_with_gear, worked_on
from fedfrom.rules.support import breach, not_checked


def check(design: Design) -> Iterator[Finding]:
    clause = design.edition.clause("Table 110.26(A)(1)")
    for room in rooms_with_gear(design):
        if room.length_ft is None or room.width_ft is None:
            yield not_checked("work-depth", room.tag, f"the `size` of room {room.tag}", room.span, clause)
            continue
        failed = False
        for item in worked_on(room):
            short = _short_ft(room.length_ft, room.width_ft, item)
            if short > 1e-6:
                failed = True
                yield breach(
                    "work-depth",
                    item.tag,
                    f"{item.tag} in {room.tag}: {_depth(item):g} ft of working space are needed, "
                    f"{max(_depth(item) - short, 0.0):.1f} ft are there",
                    item.span or room.span,
                    clause,
                    (f"condition {item.condition or 1}, {item.volts_to_ground or 0:g} V to ground", item.basis),
                    "turn the gear, or take a deeper room",
                )
        open_ = [item.tag for item in worked_on(room) if _depends_on_facing(item)]
        if open_ and not failed:
            needs = f"`facing` in room {room.tag}: what stands opposite to {listing(open_)}"
            yield not_checked("work-depth", room.tag, needs, room.span, clause)


def _depends_on_facing(item: RoomItem) -> bool:
    return item.condition is None and (item.volts_to_ground is None or item.volts_to_ground > ONE_DEPTH_V)


ONE_DEPTH_V = 150.0  # NEC Table 110.26(A)(1): to this all three conditions have one depth
LEAST_FT = 3.0  # the depth of condition 1, which is needed whatever stands opposite


def _depth(item: RoomItem) -> float:
    """The depth that is surely needed, ft."""
    depth = item.work_depth_ft or LEAST_FT
    return depth if item.condition is not None else min(depth, LEAST_FT)


def _short_ft(length: float, width: float, item: RoomItem) -> float:
    """By how many feet the room is too shallow, the gear along its longer wall where it does not fit the shorter."""
    if item.depth_in is None or item.width_in is None:
        return 0.0
    long, short = max(length, width), min(length, width)
    pinned = {"north": width, "south": width, "east": length, "west": length}
    across = pinned.get(item.wall) if item.pinned else None
    if across is None:
        across = short if item.width_in / 12 > short else long
    return item.depth_in / 12 + item.rear_ft + _depth(item) - across


RULE = Rule(
    id="work-depth",
    severity=Severity.ERROR,
    title="the working space in front of gear is not deep enough",
    why=(
        "Somebody will stand there with the cover off. The depth is what lets that person step back from an "
        "arc, and it grows with the voltage and with what stands behind."
    ),
    clause="110.26(A)(1)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
room E1 "Electrical" {
    size    12 ft x 3.5 ft
    height  10 ft
    facing  concrete
    door    3 ft, swings out, panic hardware
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
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
    size    12 ft x 8 ft
    height  10 ft
    facing  concrete
    door    3 ft, swings out, panic hardware
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       E1, north wall
    equipment   "Kiln"          30 A, 480 V 3-phase, 60 ft
}
""",
    check=check,
    life_safety=True,
    applies=reach_rooms,
    needs=needs_rooms,
)
