"""A shop has no circuit for a sign, or for its show window."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules.placed_loads import occupancy_of
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

OPEN_TO_THE_STREET = ("retail_store", "restaurant", "bank", "barber_beauty", "motion_picture_theater")


def check(design: Design) -> Iterator[Finding]:
    kinds = {load.kind for item in design.model.items.values() for load in item.loads}
    parts = {part.kind for item in design.model.items.values() for load in item.loads for part in load.parts}
    if "sign" in kinds | parts or occupancy_of(design) not in OPEN_TO_THE_STREET or not design.results.gear:
        return
    tag = next(iter(design.results.gear))
    yield breach(
        "sign-outlet",
        tag,
        f"{tag}: no circuit for a sign in a {occupancy_of(design).replace('_', ' ')}",
        design.model.project.span,
        design.edition.clause("600.5"),
        advice='write `sign "Front sign" 1.2 kVA, 120 V` on a panel near the entrance',
        severity=Severity.WARNING,
    )


RULE = Rule(
    id="sign-outlet",
    severity=Severity.WARNING,
    title="a shop has no circuit for a sign, or for its show window",
    why=(
        "Every shop gets a sign sooner or later, so the code asks for a circuit from the first day, with 1200 "
        "VA in the load."
    ),
    clause="600.5",
    bad="""fedfrom 1
project "Example" { code NEC 2023, number "E-17", occupancy retail }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       outdoor "Yard"
    electrode   rod
    electrode   rod
    lighting    "Sales floor"   900 ft2 retail, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023, number "E-17", occupancy retail }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       outdoor "Yard"
    electrode   rod
    electrode   rod
    lighting    "Sales floor"   900 ft2 retail, 60 ft
    sign        "Front sign"    1.2 kVA, 120 V, 50 ft
}
""",
    check=check,
    applies=lambda design: occupancy_of(design) in OPEN_TO_THE_STREET,
)
