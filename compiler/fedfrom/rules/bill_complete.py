"""A line of the bill lacks what a supplier needs to quote it."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.results.types import BillLine
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import for_issue, listing
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import not_checked

OPEN = ("not established", "not known", "to be")


def check(design: Design) -> Iterator[Finding]:
    open_lines = [line for line in _own_lines(design) if any(word in line.description.lower() for word in OPEN)]
    if not open_lines or not for_issue(design):
        return
    tags = [tag for line in open_lines for tag in line.tags]
    subject = tags[0] if tags else "bill"
    item = design.model.items.get(subject.partition(".")[0])
    lacks = sorted({word for line in open_lines for word in OPEN if word in line.description.lower()})
    needs = f"the ratings that the bill calls {' or '.join(lacks)}: {listing(tags)}"
    span = item.tag_span if item is not None else None
    yield not_checked("bill-complete", subject, needs, span, design.edition.clause("practice"))


def _own_lines(design: Design) -> Iterator[BillLine]:
    yield from (line for line in design.results.bill if line.list_name == "factory gear" and line.status == "new")


def _needs(design: Design) -> str:
    open_lines = [line for line in _own_lines(design) if any(word in line.description.lower() for word in OPEN)]
    return "" if not open_lines or for_issue(design) else "the ratings that the bill does not know"


RULE = Rule(
    id="bill-complete",
    severity=Severity.NOT_CHECKED,
    title="a line of the bill lacks what a supplier needs to quote it",
    why=("A supplier who has to guess quotes the cheapest reading, and the missing kiloamperes come back as an extra."),
    clause="practice",
    bad="""fedfrom 1
project "Example" { code NEC 2023, number "E-17", revision "1" 2026-05-31 "For review" }
utility UT { voltage 208Y/120 V }
panelboard MDP "Main panel" {
    fed from    UT, 20 ft, meter utility
    electrode   rod
    electrode   rod
    main        breaker 225 A
    place       outdoor "Yard"
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
    fed from    UT, 20 ft, meter utility
    electrode   rod
    electrode   rod
    main        breaker 225 A
    place       outdoor "Yard"
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.gear,
    needs=_needs,
)
