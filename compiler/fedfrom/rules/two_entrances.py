"""Large gear has a working space with one way out."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.room_facts import needs_rooms, reach_rooms, rooms_with_gear, worked_on
from fedfrom.rules.support import breach, not_checked


def check(design: Design) -> Iterator[Finding]:
    clause = design.edition.clause("110.26(C)(2)")
    for room in rooms_with_gear(design):
        large = [item for item in worked_on(room) if item.two_entrances]
        if not room.doors and large:
            yield not_checked("two-entrances", room.tag, f"the `door` lines of room {room.tag}", room.span, clause)
        elif large and len(room.doors) < room.entrances_needed:
            item = large[0]
            yield breach(
                "two-entrances",
                item.tag,
                f"{item.tag} in {room.tag}: {item.rated_a or 0:g} A and {(item.width_in or 0) / 12:.1f} ft wide, "
                "but one door only",
                item.span or room.span,
                clause,
                (f"gear: {item.basis}", "twice the working depth in front would do too"),
                "add a door at the other end, or make the space in front twice as deep",
            )


RULE = Rule(
    id="two-entrances",
    severity=Severity.ERROR,
    title="large gear has a working space with one way out",
    why=(
        "An arc in the middle of a long board cuts the only way out. From 1200 A and over 6 ft there is one "
        "at each end."
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
