"""A feeder has no length."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule


def check(design: Design) -> Iterator[Finding]:
    """Feeders only: the lengths of branch circuits are asked for, once for each panel, by the drop rules."""
    for edge in design.network.edges.values():
        feed = edge.feed
        target = design.network.nodes[edge.target].item
        if feed is None or feed.length_ft is not None or target.status.is_gone:
            continue
        if target.unreadable:
            continue
        yield Finding(
            rule="length-missing",
            severity=Severity.NOT_CHECKED,
            subject=edge.id,
            message=f"the feeder from {edge.source} to {edge.target} has no length",
            span=feed.source_span,
            notes=("voltage drop, fault current at its end and material are not known",),
            help="add the length, as `, 60 ft`; a guess is written `60 ft assumed because …`",
            clause=design.edition.clause("practice"),
        )


RULE = Rule(
    id="length-missing",
    severity=Severity.NOT_CHECKED,
    title="a feeder has no length",
    why=(
        "Voltage drop, fault current at its end and the take-off all need the length; a drawing without it "
        "cannot be checked."
    ),
    clause="practice",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    bus         400 A
    place       indoor "Electrical room"
}
pv PV1 "Roof" {
    connects to MDP, breaker 40 A
    rating      10 kW
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
    main        breaker 225 A
    bus         400 A
    place       indoor "Electrical room"
}
pv PV1 "Roof" {
    connects to MDP, 60 ft, breaker 40 A
    rating      10 kW
}
""",
    check=check,
    applies=reach.feeders,
)
