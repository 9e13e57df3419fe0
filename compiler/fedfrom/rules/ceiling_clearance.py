"""A switchboard stands too close to a ceiling that burns."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.protection import gear_rule
from fedfrom.results.assembly import RoomItem, RoomResult
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.room_facts import reach_rooms, rooms_with_gear, worked_on
from fedfrom.rules.support import breach, not_checked


def check(design: Design) -> Iterator[Finding]:
    least_ft = (gear_rule(design.edition, "ceiling") or 36.0) / 12
    clause = design.edition.clause("408.18")
    for room in rooms_with_gear(design):
        low = [item for item in worked_on(room) if item.kind == "switchboard" and _clear(room, item) < least_ft - 1e-6]
        if not low:
            continue
        fact = design.model.rooms[room.tag].facts.first("ceiling")
        if fact is None:
            needs = f"the `ceiling` of room {room.tag} (combustible or not), or its `height`"
            yield not_checked("ceiling-clearance", room.tag, needs, room.span, clause)
        elif fact.values.get("kind") == "combustible":
            for item in low:
                yield breach(
                    "ceiling-clearance",
                    item.tag,
                    f"{item.tag} in {room.tag}: {_clear(room, item):.1f} ft to a ceiling that burns, "
                    f"{least_ft:g} ft are needed",
                    fact.span,
                    clause,
                    (f"gear: {item.basis}",),
                    "put a shield that does not burn between, or take a higher room",
                    Severity.WARNING,
                )


def _clear(room: RoomResult, item: RoomItem) -> float:
    """Height over the gear, ft; 0 where it is not known."""
    return 0.0 if room.height_ft is None or item.height_in is None else room.height_ft - item.height_in / 12


def _boards(design: Design) -> bool:
    return any(gear.gear_class == "switchboard" for gear in design.results.gear.values()) and reach_rooms(design)


RULE = Rule(
    id="ceiling-clearance",
    severity=Severity.WARNING,
    title="a switchboard stands too close to a ceiling that burns",
    why="Hot gas from a fault goes up. Under a wooden ceiling it wants 3 ft.",
    clause="408.18",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
room E1 "Electrical" {
    size    18 ft x 12 ft
    height  9 ft
    facing  concrete
    door    3 ft, swings out, panic hardware
    ceiling combustible
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 600 A
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
    height  9 ft
    facing  concrete
    door    3 ft, swings out, panic hardware
    ceiling noncombustible
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 600 A
    place       E1, north wall
    equipment   "Kiln"          30 A, 480 V 3-phase, 60 ft
}
""",
    check=check,
    applies=_boards,
)
