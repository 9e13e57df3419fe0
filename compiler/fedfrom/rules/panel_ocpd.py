"""A bus is protected above its rating."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.results.notation import amperes_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of

# The classes with a rule of their own about the device ahead of their bus, and its clause.
CLAUSES = {"panelboard": "408.36", "load center": "408.36", "busway": "368.17(A)", "motor control center": "430.94"}


def check(design: Design) -> Iterator[Finding]:
    laid_open = review_of(design)
    for tag, gear in design.results.gear.items():
        if gear.gear_class not in CLAUSES or gear.bus_a is None or tag not in design.network.nodes:
            continue
        ahead = laid_open.sizer.ahead_of(tag)
        if ahead is None or ahead <= gear.bus_a + 0.001:
            continue
        fact = design.model.items[tag].facts.first("bus")
        yield breach(
            "panel-ocpd",
            tag,
            f"{tag}: bus {amperes_text(gear.bus_a)}, protected at {amperes_text(ahead)}",
            fact.span if fact else gear.span,
            design.edition.clause(CLAUSES[gear.gear_class]),
            advice="take a larger bus, a main, or a smaller device ahead",
        )


RULE = Rule(
    id="panel-ocpd",
    severity=Severity.ERROR,
    title="a bus is protected above its rating",
    why="The device ahead of a panelboard, busway or motor control center, or its main, keeps the bus from overload.",
    clause="408.36",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
}
panelboard LP "Lighting" {
    fed from    MDP, 60 ft, breaker 200 A
    main        lugs
    bus         100 A
    place       indoor "Room 2"
    receptacles "Offices"       8 outlets, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
}
panelboard LP "Lighting" {
    fed from    MDP, 60 ft, breaker 200 A
    main        lugs
    bus         225 A
    place       indoor "Room 2"
    receptacles "Offices"       8 outlets, 60 ft
}
""",
    check=check,
    applies=reach.gear,
)
