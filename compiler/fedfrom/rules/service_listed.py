"""What the service conductors end in is no service disconnect."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    for feeder in design.results.feeders.values():
        source, node = design.model.items.get(feeder.source), design.network.nodes.get(feeder.target)
        if source is None or source.kind != "utility" or node is None or feeder.status.is_gone:
            continue
        device = feeder.device
        main = node.item.main.device if node.item.main is not None else None
        if node.role == "transfer" and device is None and main is None:
            yield breach(
                "service-listed",
                feeder.target,
                f"{feeder.target} is fed straight from {feeder.source}, and it has no service disconnect",
                feeder.span,
                design.edition.clause("230.66"),
                advice="write a device on this feed, as `breaker 200 A, service rated`, or a `main`",
            )
        elif node.role == "transformer" and device is None:
            yield breach(
                "service-listed",
                feeder.target,
                f"{feeder.target} is fed straight from {feeder.source} without a service disconnect",
                feeder.span,
                design.edition.clause("230.70"),
                advice="put service equipment ahead of it",
            )


RULE = Rule(
    id="service-listed",
    severity=Severity.ERROR,
    title="what the service conductors end in is no service disconnect",
    why=(
        "The first thing inside the building must cut everything off and stand the utility fault. Only "
        "equipment marked for it may."
    ),
    clause="230.66",
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
    normal from     UT, 20 ft
    emergency from  G1, 60 ft
    system          optional standby
    poles           3
    rating          200 A
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
    normal from     UT, 20 ft, breaker 200 A, service rated
    emergency from  G1, 60 ft
    system          optional standby
    poles           3
    rating          200 A
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
    applies=reach.services,
)
