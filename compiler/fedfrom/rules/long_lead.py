"""Gear with a long delivery time still rests on assumptions."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules.placed_loads import for_issue, listing
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    if not for_issue(design):
        return
    lines = [
        line
        for line in design.results.bill
        if line.kind == "engineered" and line.status == "new" and line.assumed and not line.part_of and line.tags
    ]
    if not lines:
        return
    first = lines[0].tags[0]
    item = design.model.items.get(first.partition(".")[0])
    yield breach(
        "long-lead",
        first,
        f"{listing([tag for line in lines for tag in line.tags])}: built to order, with open decisions",
        item.tag_span if item is not None else None,
        design.edition.clause("practice"),
        tuple(f"{', '.join(line.tags)}: assumed {', '.join(line.assumed)}" for line in lines),
        "decide these first; the bill lists them as assumed",
        Severity.NOTE,
    )


def _needs(design: Design) -> str:
    return "" if for_issue(design) else "the decisions on gear that is built to order"


RULE = Rule(
    id="long-lead",
    severity=Severity.NOTE,
    title="gear with a long delivery time still rests on assumptions",
    why=("Switchboards, generators and transfer switches take months. What is decided last is what delays the job."),
    clause="practice",
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
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft, meter utility
    main        breaker 800 A
    place       outdoor "Yard"
    electrode   water pipe, 30 ft
    electrode   building steel, 20 ft
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
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5, because "utility letter 2026-05-06"
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       outdoor "Yard"
    electrode   rod
    electrode   rod
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
""",
    check=check,
    applies=lambda design: any(line.kind == "engineered" for line in design.results.bill),
    needs=_needs,
)
