"""A series rating stands on a path that must be selective."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.quantity import Quantity
from fedfrom.rules import reach
from fedfrom.rules.ats_class import classes_of_gear
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

CLAUSES = {
    "emergency": "700.32",
    "legally required": "701.32",
    "critical operations": "708.54",
    "life safety branch": "700.32",
}


def check(design: Design) -> Iterator[Finding]:
    classes = classes_of_gear(design)
    for tag in design.results.gear:
        key = CLAUSES.get(classes.get(tag, ""))
        fact = design.model.items[tag].facts.first("series rated")
        if key is None or fact is None or not any(isinstance(value, Quantity) for value in fact.values.values()):
            continue
        yield breach(
            "series-vs-selective",
            tag,
            f"{tag} is series rated and part of the {classes[tag]} system, which must be selective",
            fact.span,
            design.edition.clause(key),
            advice="take devices that are fully rated",
        )


def _applies(design: Design) -> bool:
    return reach.has_fact("series rated")(design) and reach.system_classes(*CLAUSES)(design)


RULE = Rule(
    id="series-vs-selective",
    severity=Severity.ERROR,
    title="a series rating stands on a path that must be selective",
    why=(
        "In a series-rated pair both devices open on a high fault: that is how it works. On a path that must "
        "be selective only the lower one may."
    ),
    clause="700.32",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A, LSI, interrupting 65 kA
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
    series rated    65 kA with ATS1 because "listing report, tested pair"
    equipment   "Furnace"       60 A, 480 V 3-phase, 60 ft
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
    equipment   "Furnace"       60 A, 480 V 3-phase, 60 ft
}
""",
    check=check,
    life_safety=True,
    applies=_applies,
)
