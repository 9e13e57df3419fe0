"""Existing conductors are not stated."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Origin, Status
from fedfrom.results.notation import size_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import not_checked


def check(design: Design) -> Iterator[Finding]:
    for feeder in design.results.feeders.values():
        conductors = feeder.conductors
        if feeder.status is not Status.EXISTING or conductors is None or feeder.by:
            continue
        if conductors.origins.get("phase") is not Origin.CHOSEN:
            continue
        taken = f"{size_text(conductors.phase)} {conductors.material} was taken for drop and fault current"
        needs = f"the size of the existing conductors ({taken})"
        yield not_checked("existing-conductors", feeder.id, needs, feeder.span, "")


RULE = Rule(
    id="existing-conductors",
    severity=Severity.NOT_CHECKED,
    title="existing conductors are not stated",
    why="What is installed is a fact: sizes chosen here for existing conductors are only what new ones would be.",
    clause="",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       5 kA at service point, X/R 3
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
}
existing panelboard LP "Lighting" {
    fed from    MDP, 60 ft, breaker 100 A, interrupting 10 kA
    main        lugs
    bus         100 A
    sccr        10 kA
    place       indoor "Room 2"
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       5 kA at service point, X/R 3
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
}
existing panelboard LP "Lighting" {
    fed from    MDP, 60 ft, breaker 100 A, interrupting 10 kA, phase 1 AWG
    main        lugs
    bus         100 A
    sccr        10 kA
    place       indoor "Room 2"
}
""",
    check=check,
    applies=reach.existing,
)
