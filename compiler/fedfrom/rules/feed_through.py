"""Feed-through or sub-feed lugs feed a panel on another floor."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.quantity import Quantity
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked

LUGS = ("feed-through lugs", "sub-feed lugs")


def check(design: Design) -> Iterator[Finding]:
    for feeder in design.results.feeders.values():
        if feeder.point not in LUGS or feeder.status is not Status.NEW:
            continue
        here, there = _level(design, feeder.source), _level(design, feeder.target)
        if not here or not there:
            needs = f"the rooms of {feeder.source} and {feeder.target} with their `level`"
            yield not_checked("feed-through", feeder.id, needs, feeder.span, design.edition.clause("practice"))
        elif here != there:
            yield breach(
                "feed-through",
                feeder.id,
                f"{feeder.target} on level {there} is fed from the lugs of {feeder.source} on level {here}",
                feeder.span,
                design.edition.clause("practice"),
                advice="feed it from a device, or put both side by side",
                severity=Severity.WARNING,
            )


def _level(design: Design, tag: str) -> str:
    item = design.model.items.get(tag)
    fact = item.facts.first("place") if item is not None else None
    room = design.model.rooms.get(str(fact.values.get("room", ""))) if fact is not None else None
    level = room.facts.first("level") if room is not None else None
    values = level.values.values() if level is not None else ()
    return " ".join(f"{float(value):g}" if isinstance(value, Quantity) else str(value) for value in values)


RULE = Rule(
    id="feed-through",
    severity=Severity.WARNING,
    title="feed-through or sub-feed lugs feed a panel on another floor",
    why=(
        "A panel fed from the lugs of another has no switch of its own. Somebody who works on it has to find "
        "the first panel, so they stand side by side."
    ),
    clause="408.36",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
room A1 "Closet, level 1" { level 1, size 10 ft x 8 ft }
room A2 "Closet, level 2" { level 2, size 10 ft x 8 ft }
panelboard LP1 "Offices" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       A1
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
panelboard LP2 "Offices, second section" {
    fed from    LP1 feed-through lugs, 14 ft
    bus         225 A
    main        lugs
    place       A2
    equipment   "Press"         30 A, 208 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
room A1 "Closet, level 1" { level 1, size 10 ft x 8 ft }
panelboard LP1 "Offices" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       A1
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
panelboard LP2 "Offices, second section" {
    fed from    LP1 feed-through lugs, 4 ft
    bus         225 A
    main        lugs
    place       A1
    equipment   "Press"         30 A, 208 V 3-phase, 60 ft
}
""",
    check=check,
    applies=lambda design: any(feeder.point in LUGS for feeder in design.results.feeders.values()),
)
