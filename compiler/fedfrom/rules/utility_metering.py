"""No place is given for the meter of the utility."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.graph.walk import outgoing_edges
from fedfrom.model.items import Status
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import for_issue, listing
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import not_checked


def check(design: Design) -> Iterator[Finding]:
    if not for_issue(design):
        return
    for tag, item in design.model.items.items():
        if item.kind == "utility" and item.status is Status.NEW and not _metered(design, tag):
            needs = f"where the meter of {tag} is: `metering utility` in the gear, or `meter utility` on the feed"
            yield not_checked("utility-metering", tag, needs, item.tag_span, design.edition.clause("practice"))


def _metered(design: Design, source: str) -> bool:
    """Whether a meter stands somewhere below a utility, before the next source."""
    stack, seen = [source], set()
    while stack:
        here = stack.pop()
        if here in seen:
            continue
        seen.add(here)
        gear = design.results.gear.get(here)
        if here != source and gear is not None and gear.metering:
            return True
        for edge in outgoing_edges(design.network, here):
            if edge.feed is not None and edge.feed.meter:
                return True
            stack.append(edge.target)
    return False


def _needs(design: Design) -> str:
    utilities = [tag for tag, item in design.model.items.items() if item.kind == "utility"]
    silent = [tag for tag in utilities if not _metered(design, tag)]
    return "" if not silent or for_issue(design) else f"where the meter of {listing(silent)} is"


RULE = Rule(
    id="utility-metering",
    severity=Severity.NOT_CHECKED,
    title="no place is given for the meter of the utility",
    why=("The utility says where its transformers and meter go, and it is seldom where the drawing has room for them."),
    clause="practice",
    bad="""fedfrom 1
project "Example" { code NEC 2023, number "E-17", revision "1" 2026-05-31 "For review" }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       outdoor "Yard"
    electrode   rod
    electrode   rod
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023, number "E-17" }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft, meter utility
    main        breaker 225 A
    place       outdoor "Yard"
    electrode   rod
    electrode   rod
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.services,
    needs=_needs,
)
