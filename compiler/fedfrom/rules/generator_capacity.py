"""a generator carries more than its rating."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.results.notation import kva_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked


def check(design: Design) -> Iterator[Finding]:
    for tag, source in design.results.sources.items():
        if source.kind != "generator" or source.status is Status.DEMOLISH:
            continue
        clause = design.edition.clause("702.4")
        by_state = design.results.loads.get(tag, {})
        if not by_state:
            continue
        if source.rating_va is None:
            yield not_checked("generator-capacity", tag, f"the rating of {tag}", source.span, clause)
            continue
        worst = max(by_state.values(), key=lambda load: load.demand_va)
        if worst.demand_va > source.rating_va:
            yield breach(
                "generator-capacity",
                tag,
                f"{tag} carries {kva_text(worst.demand_va)}, more than its {kva_text(source.rating_va)}",
                source.span,
                clause,
                (f"state: {worst.state}",),
                "take a larger generator, or shed load in this state",
            )
        elif not worst.complete:
            yield not_checked("generator-capacity", tag, f"every load below {tag}", source.span, clause)


RULE = Rule(
    id="generator-capacity",
    severity=Severity.ERROR,
    title="a generator carries more than its rating",
    why="An overloaded generator trips, and everything behind it goes dark.",
    clause="702.4",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
generator G1 "Standby" {
    rating          100 kW
    voltage         480Y/277 V
    subtransient    12 %
    main            breaker, LSI
    place           outdoor "Yard"
}
transfer switch ATS1 "Standby" {
    normal from     UT, 20 ft, breaker 600 A, LSI
    emergency from  G1, 40 ft
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
    applies=reach.kinds("generator"),
)
