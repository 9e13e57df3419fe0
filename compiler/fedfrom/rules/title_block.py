"""The title block lacks what a plan review asks for."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules.placed_loads import for_issue
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

# Property -> how it is named for the reader.
WANTED = {
    "number": "number",
    "address": "address",
    "occupancy": "occupancy",
    "designer": "designer",
    "revision": "date of issue (a `revision`)",
}


def check(design: Design) -> Iterator[Finding]:
    missing = _missing(design)
    if missing and for_issue(design):
        yield breach(
            "title-block",
            "project",
            f"the title block has no {', no '.join(missing)}",
            design.model.project.span,
            design.edition.clause("practice"),
            advice="write them in `project`; where a seal is needed, the sheet leaves its place free",
            severity=Severity.NOTE,
        )


def _missing(design: Design) -> list[str]:
    project = design.model.project
    have = {"number": bool(project.number)}
    return [text for name, text in WANTED.items() if not (have.get(name) or project.facts.first(name))]


def _needs(design: Design) -> str:
    missing = _missing(design)
    return "" if not missing or for_issue(design) else f"{', '.join(missing)} of the project"


RULE = Rule(
    id="title-block",
    severity=Severity.NOTE,
    title="the title block lacks what a plan review asks for",
    why=("A sheet without address, occupancy and the name of who answers for it goes back before anyone reads it."),
    clause="practice",
    bad="""fedfrom 1
project "Example" { number "E-17", code NEC 2023, revision "1" 2026-05-31 "For review" }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5, because "utility letter 2026-05-06"
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
