"""A grounded service comes in without its neutral."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    for feeder in design.results.feeders.values():
        source = design.model.items.get(feeder.source)
        edge = design.network.edges.get(feeder.id)
        if source is None or source.kind != "utility" or feeder.status.is_gone or edge is None or edge.feed is None:
            continue
        grounded = feeder.system is not None and feeder.system.has_neutral and feeder.system.grounding == "solid"
        written = edge.feed.conductors.neutral
        if grounded and written is not None and written.value == "none":
            source_text = feeder.system.literal if feeder.system is not None else feeder.source
            yield breach(
                "service-neutral",
                feeder.id,
                f"{feeder.id}: the service of {source_text} is brought in without its grounded conductor",
                written.span or feeder.span,
                design.edition.clause("250.24(C)"),
                advice="leave `neutral none` out: the neutral comes to the service and is bonded there",
            )


RULE = Rule(
    id="service-neutral",
    severity=Severity.ERROR,
    title="a grounded service comes in without its neutral",
    why=(
        "The grounded conductor is the way back for every ground fault in the building. Without it the current "
        "has to find its way through the earth, and no breaker trips."
    ),
    clause="250.24(C)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft, neutral none
    main        breaker 225 A
    place       indoor "Electrical room"
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
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
    place       indoor "Electrical room"
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
""",
    check=check,
    life_safety=True,
    applies=reach.services,
)
