"""An emergency system has one alternate source and no way to connect another."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import listing
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

EMERGENCY = ("emergency", "life safety branch")


def check(design: Design) -> Iterator[Finding]:
    switches = [tag for tag, each in design.results.transfers.items() if each.system_class in EMERGENCY]
    generators = [item for item in design.model.items.values() if item.kind == "generator" and not item.status.is_gone]
    connected = any(item.kind == "generator connection" for item in design.model.items.values())
    if not switches or len(generators) != 1 or connected:
        return
    source = generators[0]
    yield breach(
        "emergency-source",
        source.tag,
        f"{source.tag} is the only alternate source of {listing(switches)}, and no portable one can be connected",
        source.tag_span,
        design.edition.clause("700.3(F)"),
        advice="add a `generator connection`, or accept this with the reason that the authority agrees to",
        severity=Severity.WARNING,
    )


RULE = Rule(
    id="emergency-source",
    severity=Severity.WARNING,
    title="an emergency system has one alternate source and no way to connect another",
    why=(
        "While the one generator is on the bench, the building has no emergency power. A connection for a "
        "rented one, ready on the wall, is what keeps it open."
    ),
    clause="700.3(F)",
    bad="""fedfrom 1
project "Example" {
    code    NEC 2023
    number  "E-17"
}
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
    good="""fedfrom 1
project "Example" {
    code    NEC 2023
    number  "E-17"
}
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
generator connection GCC1 "Portable generator" {
    rating      400 A
    voltage     480Y/277 V
    place       outdoor "North wall"
}
panelboard GP1 "Load bank and portable generator" {
    fed from    GCC1, 10 ft
    place       indoor "Electrical room"
    equipment   "Load bank"     60 A, 480 V 3-phase, 20 ft
}
""",
    check=check,
    life_safety=True,
    applies=reach.system_classes("emergency", "life safety branch"),
)
