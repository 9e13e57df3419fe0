"""A utility fault figure does not say where it comes from."""

from __future__ import annotations

import re
from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import for_issue
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

FIGURES = ("fault", "primary", "transformer")


def check(design: Design) -> Iterator[Finding]:
    if not for_issue(design):
        return
    for tag, item in design.model.items.items():
        facts = [fact for name in FIGURES if (fact := item.facts.first(name)) is not None]
        if item.kind != "utility" or not facts or item.status is Status.FUTURE:
            continue
        reasons = [fact.reason for fact in facts if fact.reason]
        assumed = any(fact.assumed for fact in facts)
        if any(DATE.search(reason) for reason in reasons):
            continue
        said = "is assumed, without a date" if assumed else "has no source with a date"
        yield breach(
            "fault-basis",
            tag,
            f"the fault figure of {tag} {said}",
            facts[0].span,
            design.edition.clause("110.24"),
            advice='write where it comes from: `because "utility letter 2026-05-06"`',
            severity=Severity.NOTE,
        )


DATE = re.compile(r"\b\d{4}-\d{2}-\d{2}\b")


def _needs(design: Design) -> str:
    return "" if for_issue(design) else "the source and date of the utility figure"


RULE = Rule(
    id="fault-basis",
    severity=Severity.NOTE,
    title="a utility fault figure does not say where it comes from",
    why=(
        "Every rating of the building rests on this one figure. A letter with a date can be asked about; a "
        "number alone cannot."
    ),
    clause="110.24",
    bad="""fedfrom 1
project "Example" {
    number      "E-17"
    code        NEC 2023
    address     "12 Mill Lane"
    occupancy   manufacturing
    designer    "Northgate Electrical"
    revision    "1" 2026-05-31 "For review"
}
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
    good="""fedfrom 1
project "Example" {
    number      "E-17"
    code        NEC 2023
    address     "12 Mill Lane"
    occupancy   manufacturing
    designer    "Northgate Electrical"
    revision    "1" 2026-05-31 "For review"
}
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5, because "utility letter 2026-05-06"
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
    check=check,
    applies=reach.services,
    needs=_needs,
)
