"""A raceway is filled beyond its limit."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.sizing_review import Wiring
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked, review_of
from fedfrom.tables import lookup


def check(design: Design) -> Iterator[Finding]:
    for wiring in review_of(design).wirings:
        yield from _check(design, wiring)


def _check(design: Design, wiring: Wiring) -> Iterator[Finding]:
    conductors, clause = wiring.conductors, design.edition.clause("Chapter 9 Table 1")
    count = conductors.ungrounded + bool(conductors.neutral) + bool(conductors.ground)
    limit = lookup.fill_limit_pct(design.edition, count)
    if conductors.fill_pct is not None:
        if conductors.fill_pct > limit + 0.005:
            yield breach(
                "raceway-fill",
                wiring.subject,
                f"{wiring.subject}: {conductors.raceway_size} inch {conductors.raceway_kind} filled to "
                f"{conductors.fill_pct:.0f} %, limit {limit:.0f} %",
                wiring.span,
                clause,
                (f"{count} conductors in the raceway",),
                "take a larger trade size, or leave it out",
            )
        return
    if not lookup.trade_sizes(design.edition, conductors.raceway_kind):
        if conductors.raceway_size:
            needs = f"the inside area of {conductors.raceway_kind}, which the tables here do not have"
            yield not_checked("raceway-fill", wiring.subject, needs, wiring.span, clause)
        return
    if conductors.raceway_size:
        text = f"{conductors.raceway_size} inch {conductors.raceway_kind} is no trade size of the tables"
    else:
        text = f"no trade size of {conductors.raceway_kind} takes these conductors"
    message = f"{wiring.subject}: {text}"
    yield breach("raceway-fill", wiring.subject, message, wiring.span, clause, advice="use more sets")


RULE = Rule(
    id="raceway-fill",
    severity=Severity.ERROR,
    title="a raceway is filled beyond its limit",
    why="Conductors pulled into an overfilled raceway are damaged, and cannot give off their heat.",
    clause="Chapter 9 Table 1",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
    equipment   "Kiln"          90 A, 208 V 3-phase, 60 ft, breaker 100 A, raceway 3/4 inch
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
    main        breaker 400 A
    place       indoor "Electrical room"
    equipment   "Kiln"          90 A, 208 V 3-phase, 60 ft, breaker 100 A, raceway 1-1/4 inch
}
""",
    check=check,
    applies=reach.conductors,
)
