"""The equipment does not fit its room."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.room_facts import needs_rooms, reach_rooms, rooms_with_gear
from fedfrom.rules.support import breach, not_checked


def check(design: Design) -> Iterator[Finding]:
    clause = design.edition.clause("110.26(A)")
    for room in rooms_with_gear(design):
        for misfit in room.misfits:
            yield breach(
                "room-fit",
                room.tag,
                f"{room.tag}: {misfit}",
                room.span,
                clause,
                ("planning dimensions; makers differ",),
                "take a larger room, or other gear",
                Severity.WARNING,
            )
        if room.fits is None and not room.misfits:
            yield not_checked("room-fit", room.tag, ", ".join(room.needs) or "the room and its gear", room.span, clause)


RULE = Rule(
    id="room-fit",
    severity=Severity.WARNING,
    title="the equipment does not fit its room",
    why="A room that is a foot too short is found when the board is on the truck.",
    clause="110.26(A)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
room E1 "Electrical" {
    size    8 ft x 8 ft
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
    applies=reach_rooms,
    needs=needs_rooms,
)
