"""The working space of gear is not known."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules.placed_loads import for_issue, listing
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.room_facts import needs_rooms, reach_rooms, without_room
from fedfrom.rules.support import not_checked


def check(design: Design) -> Iterator[Finding]:
    tags = without_room(design)
    if tags and for_issue(design):
        yield not_checked(
            "working-space-unknown",
            tags[0],
            f"a `room` with size, height, facing and doors for {listing(list(tags))}",
            design.model.items[tags[0]].tag_span,
            design.edition.clause("110.26"),
        )


def _needs(design: Design) -> str:
    return "" if for_issue(design) else needs_rooms(design)


RULE = Rule(
    id="working-space-unknown",
    severity=Severity.NOT_CHECKED,
    title="the working space of gear is not known",
    why=(
        "Depth, doors and height cannot be checked for gear whose room nobody describes. What is not checked "
        "is not right."
    ),
    clause="110.26",
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
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5, because "utility letter 2026-05-06"
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft, meter utility
    main        breaker 225 A
    place       indoor "Electrical room"
    electrode   water pipe, 20 ft
    electrode   rod
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
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
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5, because "utility letter 2026-05-06"
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft, meter utility
    main        breaker 225 A
    place       outdoor "Yard"
    electrode   water pipe, 20 ft
    electrode   rod
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach_rooms,
    needs=_needs,
)
