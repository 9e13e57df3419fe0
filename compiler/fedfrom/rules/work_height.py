"""A room is too low for the working space of its gear."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.formulas.working_space import working_height_ft
from fedfrom.passes.protection import gear_rule
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.room_facts import needs_rooms, reach_rooms, rooms_with_gear, worked_on
from fedfrom.rules.support import breach, not_checked


def check(design: Design) -> Iterator[Finding]:
    least_in = gear_rule(design.edition, "working_height") or 78.0
    clause = design.edition.clause("110.26(A)(3)")
    for room in rooms_with_gear(design):
        if room.height_ft is None:
            yield not_checked("work-height", room.tag, f"the `height` of room {room.tag}", room.span, clause)
            continue
        for item in worked_on(room):
            needed = working_height_ft((item.height_in or 0.0) / 12, least_in)
            if room.height_ft < needed - 1e-6:
                yield breach(
                    "work-height",
                    item.tag,
                    f"{item.tag} in {room.tag}: {needed:g} ft of height are needed, the room has {room.height_ft:g} ft",
                    item.span or room.span,
                    clause,
                    (f"gear: {item.basis}",),
                    "take a higher room",
                )


RULE = Rule(
    id="work-height",
    severity=Severity.ERROR,
    title="a room is too low for the working space of its gear",
    why="Nobody works well bent under a beam. The space is 6 ft 6 in high, or as high as the gear.",
    clause="110.26(A)(3)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
room E1 "Electrical" {
    size    18 ft x 12 ft
    height  6 ft
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
    size    18 ft x 12 ft
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
