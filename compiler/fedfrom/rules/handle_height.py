"""A handle is higher than a hand reaches."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.fact_reading import amount
from fedfrom.passes.protection import gear_rule
from fedfrom.quantity import Dimension
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    most_in = gear_rule(design.edition, "handle_height") or 79.0
    for tag, gear in design.results.gear.items():
        fact = design.model.items[tag].facts.first("handle height")
        height = amount(fact, Dimension.LENGTH)
        if fact is not None and height is not None and height * 12 > most_in + 1e-6 and not gear.status.is_gone:
            yield breach(
                "handle-height",
                tag,
                f"{tag}: the highest handle is at {height:g} ft, {most_in:g} in is the most",
                fact.span,
                design.edition.clause("240.24(A)"),
                advice="mount it lower, or put the device lower in the gear",
            )


def _needs(design: Design) -> str:
    return "" if reach.has_fact("handle height")(design) else "the `handle height` of the gear"


RULE = Rule(
    id="handle-height",
    severity=Severity.ERROR,
    title="a handle is higher than a hand reaches",
    why="In an emergency nobody looks for a ladder. The highest handle is at 6 ft 7 in, measured at its top.",
    clause="240.24(A)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from        UT, 20 ft
    main            breaker 225 A
    place           indoor "Electrical room"
    handle height   7 ft
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
    fed from        UT, 20 ft
    main            breaker 225 A
    place           indoor "Electrical room"
    handle height   6.5 ft
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.gear,
    needs=_needs,
)
