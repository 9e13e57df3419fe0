"""Foreign things stand in the space over gear."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.protection import gear_rule
from fedfrom.rules.placed_loads import for_issue, listing
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.room_facts import needs_rooms, reach_rooms, rooms_with_gear, worked_on
from fedfrom.rules.support import breach, not_checked


def check(design: Design) -> Iterator[Finding]:
    clause = design.edition.clause("110.26(E)")
    up_to = gear_rule(design.edition, "dedicated_space_height") or 6.0
    silent: list[str] = []
    for room in rooms_with_gear(design):
        fact = design.model.rooms[room.tag].facts.first("foreign systems")
        if fact is None:
            silent.append(room.tag)
            continue
        above = str(fact.values.get("above", ""))
        if above:
            tags = listing([item.tag for item in worked_on(room)])
            yield breach(
                "dedicated-space",
                room.tag,
                f"{room.tag}: {above}, with {tags} in the room",
                fact.span,
                clause,
                (f"the space up to {up_to:g} ft over the gear is its own",),
                "move the other system; above that height it needs a drip pan or the like",
                Severity.WARNING,
            )
    if silent and for_issue(design):
        needs = f"`foreign systems` of room {listing(silent)}: what other trades run over the gear"
        yield not_checked("dedicated-space", silent[0], needs, design.model.rooms[silent[0]].span, clause)


def _needs(design: Design) -> str:
    stated = any(room.facts.first("foreign systems") for room in design.model.rooms.values())
    return "" if stated else needs_rooms(design) or "`foreign systems` of the rooms"


RULE = Rule(
    id="dedicated-space",
    severity=Severity.WARNING,
    title="foreign things stand in the space over gear",
    why=(
        "A sprinkler pipe over a switchboard leaks on the day nobody is there. The space over the footprint "
        "belongs to the gear."
    ),
    clause="110.26(E)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
room E1 "Electrical" {
    size            18 ft x 12 ft
    height          10 ft
    facing          concrete
    door            3 ft, swings out, panic hardware
    foreign systems "Chilled water main over the panel"
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
    size            18 ft x 12 ft
    height          10 ft
    facing          concrete
    door            3 ft, swings out, panic hardware
    foreign systems none
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       E1, north wall
    equipment   "Kiln"          30 A, 480 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach_rooms,
    needs=_needs,
)
