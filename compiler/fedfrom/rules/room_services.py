"""A room with service gear has no light or no receptacle of its own."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.rules.placed_loads import for_issue, listing, placed_loads
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.room_facts import needs_rooms, reach_rooms, rooms_with_gear, worked_on
from fedfrom.rules.support import breach

USES = {"lighting": "110.26(D)", "receptacles": "210.63(B)"}


def check(design: Design) -> Iterator[Finding]:
    if not for_issue(design):
        return
    served: dict[str, set[str]] = {}
    for placed in placed_loads(design, *USES, status=(Status.NEW, Status.EXISTING)):
        for owner in (placed.part, placed.load):
            for fact in owner.facts.all("place"):
                served.setdefault(str(fact.values.get("room", "")), set()).add(placed.part.kind)
    for room in rooms_with_gear(design):
        service = [item.tag for item in worked_on(room) if _is_service(design, item.tag)]
        missing = [use for use in USES if use not in served.get(room.tag, set())]
        if service and missing:
            yield breach(
                "room-services",
                room.tag,
                f"{room.tag} with {listing(service)}: no circuit for {' or '.join(missing)} says `place {room.tag}`",
                room.span,
                design.edition.clause(USES[missing[0]]),
                advice=f"write `place {room.tag}` on the circuit that serves it",
                severity=Severity.NOTE,
            )


def _is_service(design: Design, tag: str) -> bool:
    gear = design.results.gear.get(tag)
    return gear is not None and gear.service_equipment


def _needs(design: Design) -> str:
    return needs_rooms(design) or ("" if for_issue(design) else "the `place` of the circuits of the room")


RULE = Rule(
    id="room-services",
    severity=Severity.NOTE,
    title="a room with service gear has no light or no receptacle of its own",
    why=(
        "Work at the board needs light that does not depend on a motion sensor, and an outlet within 25 ft "
        "for the test set."
    ),
    clause="110.26(D)",
    bad="""fedfrom 1
project "Example" {
    number      "E-17"
    code        NEC 2023
    address     "12 Mill Lane"
    occupancy   manufacturing
    designer    "Northgate Electrical"
    revision    "1" 2026-05-31 "For review"
}
utility UT {
    voltage     480Y/277 V
    fault       12 kA at service point, X/R 4, because "utility letter 2026-05-06"
}
room E1 "Electrical" {
    size            18 ft x 12 ft
    height          12 ft
    facing          concrete
    door            3 ft, swings out, panic hardware
    foreign systems none
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft, meter utility
    main        breaker 225 A
    electrode   water pipe, 20 ft
    electrode   rod
    place       E1, north wall
    equipment   "Kiln"          30 A, 480 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" {
    number      "E-17"
    code        NEC 2023
    address     "12 Mill Lane"
    occupancy   manufacturing
    designer    "Northgate Electrical"
    revision    "1" 2026-05-31 "For review"
}
utility UT {
    voltage     480Y/277 V
    fault       12 kA at service point, X/R 4, because "utility letter 2026-05-06"
}
room E1 "Electrical" {
    size            18 ft x 12 ft
    height          12 ft
    facing          concrete
    door            3 ft, swings out, panic hardware
    foreign systems none
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft, meter utility
    main        breaker 225 A
    electrode   water pipe, 20 ft
    electrode   rod
    place       E1, north wall
    lighting    "Electrical room"       0.4 kVA, 277 V, 20 ft, place E1
    equipment   "Kiln"                  30 A, 480 V 3-phase, 60 ft
}
transformer T1 "Offices" {
    fed from    MDP, 8 ft
    rating      15 kVA
    secondary   208Y/120 V
    impedance   4 %, X/R 2, because "utility letter 2026-05-06"
    electrode   building steel, 20 ft
    place       indoor "Store"
}
panelboard LP1 "Offices" {
    fed from    T1, 10 ft
    main        breaker 50 A
    place       outdoor "Yard"
    receptacles "Electrical room"       1 outlet, 20 ft, place E1
}
""",
    check=check,
    applies=reach_rooms,
    needs=_needs,
)
