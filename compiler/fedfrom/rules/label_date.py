"""The labels of available fault current have no date."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.rules.placed_loads import for_issue, listing
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import not_checked


def check(design: Design) -> Iterator[Finding]:
    dated = any("date" in fact.values for fact in design.model.project.facts.all("revision"))
    service = _labeled(design)
    if service and not dated and for_issue(design):
        needs = f'a date for the fault-current label of {listing(service)}: `revision "1" 2026-05-31 "…"`'
        span = design.model.project.span
        yield not_checked("label-date", service[0], needs, span, design.edition.clause("110.24"))


def _labeled(design: Design) -> list[str]:
    """New service gear but that of a dwelling unit, which NEC 110.24 leaves out."""
    found = []
    for tag, gear in design.results.gear.items():
        dwelling = design.model.items[tag].facts.first("dwelling") is not None
        if gear.service_equipment and gear.status is Status.NEW and not dwelling:
            found.append(tag)
    return found


def _needs(design: Design) -> str:
    dated = any("date" in fact.values for fact in design.model.project.facts.all("revision"))
    return "" if dated or for_issue(design) else "a `revision` with its date"


RULE = Rule(
    id="label-date",
    severity=Severity.NOT_CHECKED,
    title="the labels of available fault current have no date",
    why=("The label says what the fault current was on a day. Without the day nobody knows whether it is still true."),
    clause="110.24",
    bad="""fedfrom 1
project "Example" { code NEC 2023, number "E-17", revision "1" "For review" }
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
project "Example" { code NEC 2023, number "E-17", revision "1" 2026-05-31 "For review" }
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
    applies=lambda design: bool(_labeled(design)),
    needs=_needs,
)
