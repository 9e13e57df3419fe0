"""the fault current is close to the rating of the gear."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.results.notation import kiloamperes_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

MARGIN = 0.9  # common practice, no source


def check(design: Design) -> Iterator[Finding]:
    for tag, gear in design.results.gear.items():
        if gear.sccr_a is None or gear.fault_a is None or gear.status is not Status.NEW:
            continue
        if MARGIN * gear.sccr_a < gear.fault_a <= gear.sccr_a:
            share = 100 * gear.fault_a / gear.sccr_a
            yield breach(
                "rating-margin",
                tag,
                f"{tag}: {kiloamperes_text(gear.fault_a)} is {share:.0f} % of its rating of "
                f"{kiloamperes_text(gear.sccr_a)}",
                gear.span,
                design.edition.clause("practice"),
                (f"state: {gear.fault_state}",),
                "consider the next higher rating",
                Severity.NOTE,
            )


RULE = Rule(
    id="rating-margin",
    severity=Severity.NOTE,
    title="the fault current is close to the rating of the gear",
    why="A rating with little margin is too low on the day the utility puts in a larger transformer.",
    clause="practice",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9.8 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft, wire by utility
    main        breaker 225 A
    place       indoor "Electrical room"
    sccr        10 kA
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9.8 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft, wire by utility
    main        breaker 225 A
    place       indoor "Electrical room"
    sccr        22 kA
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.gear,
)
