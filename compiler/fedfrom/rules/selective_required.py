"""the code asks for selective coordination here, which takes a study."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import not_checked

CLAUSES = {
    "emergency": "700.32",
    "legally required": "701.32",
    "critical operations": "708.54",
    "life safety branch": "700.32",
    "critical branch": "517.31(G)",
    "equipment branch": "517.31(G)",
}


def check(design: Design) -> Iterator[Finding]:
    for tag, switch in design.results.transfers.items():
        key = CLAUSES.get(switch.system_class)
        if key is None or switch.status is Status.DEMOLISH:
            continue
        yield not_checked(
            "selective-required",
            tag,
            f"a coordination study with the device curves for the {switch.system_class} system below {tag}",
            switch.span,
            design.edition.clause(key),
            how=f'have the study made, then name it: `accept selective-required on {tag} because "…"`',
        )


RULE = Rule(
    id="selective-required",
    severity=Severity.NOT_CHECKED,
    title="the code asks for selective coordination here, which takes a study",
    why="On emergency systems a fault must not take down more than the one circuit.",
    clause="700.32",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
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
    normal from     UT, 20 ft, breaker 600 A, LSI
    emergency from  G1, 40 ft
    poles           3
    system          emergency
    place           indoor "Electrical room"
}
panelboard LP1 "Standby loads" {
    fed from        ATS1, 15 ft
    surge device    100 kA
    place           indoor "Electrical room"
    equipment   "Furnace"       200 A, 480 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
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
    normal from     UT, 20 ft, breaker 600 A, LSI
    emergency from  G1, 40 ft
    poles           3
    system          optional standby
    place           indoor "Electrical room"
}
panelboard LP1 "Standby loads" {
    fed from        ATS1, 15 ft
    surge device    100 kA
    place           indoor "Electrical room"
    equipment   "Furnace"       200 A, 480 V 3-phase, 60 ft
}
""",
    check=check,
    life_safety=True,
    applies=reach.transfers,
)
