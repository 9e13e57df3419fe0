"""Load is added to existing gear whose present load is not known."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Label, Severity
from fedfrom.graph.walk import below
from fedfrom.model.items import Status
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule


def check(design: Design) -> Iterator[Finding]:
    """Existing distribution gear with new load at or below it, and neither a measured demand nor an existing load."""
    state = design.plan.normal
    for tag in state.order:
        node = design.network.nodes[tag]
        if node.item.status is not Status.EXISTING or node.role != "bus":
            continue
        items = [design.network.nodes[name].item for name in below(design.network, state, tag)]
        added = [load for item in items if item.status in LIVE for load in item.loads if load.status in ADDED]
        known = any(load.status is Status.EXISTING for item in items for load in item.loads)
        measured = any(item.facts.first("measured") is not None for item in items)
        if not added or known or measured:
            continue
        yield Finding(
            rule="existing-capacity",
            severity=Severity.ERROR,
            subject=tag,
            message=f"{tag} is existing and gets new load, and nothing says what it carries today",
            span=node.item.tag_span,
            related=(Label(added[0].span, "new load"),),
            help="write `measured 412 A, 12 months, because …`, or list its existing circuits",
            clause=design.edition.clause("220.87"),
        )


ADDED = frozenset({Status.NEW, Status.RELOCATED})
LIVE = frozenset({Status.NEW, Status.EXISTING, Status.RELOCATED})


RULE = Rule(
    id="existing-capacity",
    severity=Severity.ERROR,
    title="load is added to existing gear whose present load is not known",
    why=(
        "Spare capacity of existing gear is a fact: a year of demand records, a 30-day recording, or the "
        "list of what it feeds."
    ),
    clause="220.87",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
existing utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
existing panelboard MDP "Main panel" {
    fed from    UT, 20 ft, phase 4/0 AWG
    main        breaker 225 A
    bus         225 A
    sccr        10 kA
    place       indoor "Electrical room"
    new equipment "Press"       20 A, 208 V 3-phase, 30 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
existing utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
existing panelboard MDP "Main panel" {
    fed from    UT, 20 ft, phase 4/0 AWG
    main        breaker 225 A
    bus         225 A
    sccr        10 kA
    place       indoor "Electrical room"
    measured    90 A, 12 months, to 2026-05-31, because "utility records"
    new equipment "Press"       20 A, 208 V 3-phase, 30 ft
}
""",
    check=check,
    applies=reach.existing,
)
