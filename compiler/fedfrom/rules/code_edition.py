"""The project does not say which edition of the code it is checked against."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Origin
from fedfrom.rules.placed_loads import for_issue
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    project = design.model.project
    if project.code.origin is Origin.DEFAULT and for_issue(design):
        yield breach(
            "code-edition",
            "project",
            f"the project states no code; it is checked against {project.code.value}",
            project.span,
            design.edition.clause("practice"),
            advice="write `code NEC 2023`, or the edition that the place has adopted",
            severity=Severity.WARNING,
        )


def _needs(design: Design) -> str:
    stated = design.model.project.code.origin is not Origin.DEFAULT
    return "" if stated or for_issue(design) else "the `code` of the project"


RULE = Rule(
    id="code-edition",
    severity=Severity.WARNING,
    title="the project does not say which edition of the code it is checked against",
    why=(
        "Each place adopts its own edition, years apart, and numbers and limits change. The reviewer opens "
        "the one that is adopted."
    ),
    clause="practice",
    bad="""fedfrom 1
project "Example" {
    number  "E-17", revision "1" 2026-05-31 "For review", designer "Northgate Electrical"
}
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
project "Example" {
    number  "E-17", revision "1" 2026-05-31 "For review", code NEC 2020, designer "Northgate Electrical"
}
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
    check=check,
    needs=_needs,
)
