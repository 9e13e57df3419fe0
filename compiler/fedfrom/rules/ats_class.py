"""A load of one class of system hangs where another class, or none, is supplied."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.graph.walk import supply_of
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import placed_loads
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach
from fedfrom.source import Span

CLAUSES = {
    "emergency": "700.5(D)",
    "legally required": "701.5",
    "optional standby": "702.5",
    "critical operations": "708.54",
    "life safety branch": "517.31",
    "critical branch": "517.31",
    "equipment branch": "517.31",
}


def check(design: Design) -> Iterator[Finding]:
    classes = classes_of_gear(design)
    for placed in placed_loads(design):
        fact = placed.part.facts.first("system") or placed.load.facts.first("system")
        wanted = str(fact.values.get("class", "")) if fact is not None else ""
        here = classes.get(placed.item.tag, "")
        if wanted and here != wanted:
            where = f"the {here} system" if here else "no transfer switch"
            yield _finding(
                design,
                placed.subject,
                wanted,
                f"belongs to {wanted}, and {placed.item.tag} is fed from {where}",
                placed.span,
            )
    for tag, switch in design.results.transfers.items():
        above = classes.get(tag, "")
        if switch.system_class and above and above != switch.system_class:
            problem = f"{tag} is {switch.system_class} and hangs below the {above} system"
            yield _finding(design, tag, switch.system_class, problem, switch.span)


def _finding(design: Design, subject: str, wanted: str, problem: str, span: Span | None) -> Finding:
    message = problem if problem.startswith(subject) else f"{subject} {problem}"
    advice = "feed it from a transfer switch of its own class, in panels and raceways of its own"
    return breach(
        "ats-class", subject, message, span, design.edition.clause(CLAUSES.get(wanted, "700.5(D)")), advice=advice
    )


def classes_of_gear(design: Design) -> dict[str, str]:
    """The class of system of every node: that of the nearest transfer switch above it; switches: what is above them."""
    found: dict[str, str] = {}
    state = design.plan.normal
    for tag in state.order:
        above = supply_of(design.network, state, tag)
        if above is None:
            continue
        switch = design.results.transfers.get(above)
        found[tag] = (switch.system_class if switch is not None else "") or found.get(above, "")
    return found


def _applies(design: Design) -> bool:
    return reach.kinds("transfer switch")(design) or reach.load_fact("system")(design)


RULE = Rule(
    id="ats-class",
    severity=Severity.ERROR,
    title="a load of one class of system hangs where another class, or none, is supplied",
    why=(
        "Emergency power is kept apart so that nothing else can bring it down: own transfer switch, own "
        "panels, own raceways."
    ),
    clause="700.5(D)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    electrode   water pipe, 30 ft
    electrode   building steel, 20 ft
}
generator G1 "Standby" {
    rating          200 kW
    voltage         480Y/277 V
    subtransient    12 %
    main            breaker, LSI
    bond            none

    place           outdoor "Yard"
}
transfer switch ATS1 "Standby" {
    normal from     MSB, 30 ft
    emergency from  G1, 60 ft
    system          optional standby
    poles           3
    place           indoor "Electrical room"
}
panelboard LP1 "Standby loads" {
    fed from        ATS1, 15 ft
    place           indoor "Electrical room"
    surge device    100 kA
    equipment   "Smoke control panel"   2 kVA, 277 V, 60 ft, system emergency
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    electrode   water pipe, 30 ft
    electrode   building steel, 20 ft
}
generator G1 "Standby" {
    rating          200 kW
    voltage         480Y/277 V
    subtransient    12 %
    main            breaker, LSI
    bond            none

    place           outdoor "Yard"
}
transfer switch ATS1 "Standby" {
    normal from     MSB, 30 ft
    emergency from  G1, 60 ft
    system          emergency
    poles           3
    place           indoor "Electrical room"
}
panelboard LP1 "Standby loads" {
    fed from        ATS1, 15 ft
    place           indoor "Electrical room"
    surge device    100 kA
    equipment   "Smoke control panel"   2 kVA, 277 V, 60 ft, system emergency
}
""",
    check=check,
    life_safety=True,
    applies=_applies,
)
