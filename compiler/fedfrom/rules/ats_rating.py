"""a transfer switch is rated for less than it must carry or withstand."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.results.governing import governing_load
from fedfrom.results.notation import kiloamperes_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked


def check(design: Design) -> Iterator[Finding]:
    clause = design.edition.clause("700.5")
    for tag, switch in design.results.transfers.items():
        if switch.kind != "transfer switch" or switch.status is Status.DEMOLISH:
            continue
        if switch.fault_a is None or switch.withstand_a is None:
            needs = f"the {'available fault current' if switch.fault_a is None else 'withstand rating'} of {tag}"
            yield not_checked("ats-rating", tag, needs, switch.span, clause)
        elif switch.withstand_a < switch.fault_a:
            yield breach(
                "ats-rating",
                tag,
                f"{tag} withstands {kiloamperes_text(switch.withstand_a)}, "
                f"but {kiloamperes_text(switch.fault_a)} is available",
                switch.span,
                clause,
                (f"state: {switch.fault_state}",),
                "take a higher withstand and closing rating",
            )
        load = governing_load(design.results, tag)
        if load is not None and switch.rating_a is not None and load.design_a > switch.rating_a:
            yield breach(
                "ats-rating",
                tag,
                f"{tag} is rated {switch.rating_a:g} A, but its design current is {load.design_a:.0f} A",
                switch.span,
                clause,
                (f"state: {load.state}",),
                "take the next rating",
            )


RULE = Rule(
    id="ats-rating",
    severity=Severity.ERROR,
    title="a transfer switch is rated for less than it must carry or withstand",
    why="A transfer switch closes onto faults and must carry its load for good.",
    clause="700.5",
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
    place           outdoor "Yard"
}
transfer switch ATS1 "Standby" {
    normal from     UT, 20 ft, breaker 600 A, LSI
    emergency from  G1, 40 ft
    withstand       10 kA
    system          optional standby
    place           indoor "Electrical room"
}
panelboard LP1 "Standby loads" {
    fed from    ATS1, 15 ft
    place       indoor "Electrical room"
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
    place           outdoor "Yard"
}
transfer switch ATS1 "Standby" {
    normal from     UT, 20 ft, breaker 600 A, LSI
    emergency from  G1, 40 ft
    withstand       42 kA
    system          optional standby
    place           indoor "Electrical room"
}
panelboard LP1 "Standby loads" {
    fed from    ATS1, 15 ft
    place       indoor "Electrical room"
    equipment   "Furnace"       200 A, 480 V 3-phase, 60 ft
}
""",
    check=check,
    life_safety=True,
    applies=reach.transfers,
)
