"""Vehicle charging is not taken as continuous load."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import placed_loads
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    for placed in placed_loads(design, "ev-charger"):
        if placed.part.continuous is False or not placed.row.continuous:
            yield breach(
                "ev-load",
                placed.subject,
                f"{placed.subject}: vehicle charging is written as noncontinuous",
                placed.span,
                design.edition.clause("625.42"),
                advice="take `noncontinuous` out; a managed group is written with `managed ev-charger to …`",
            )


RULE = Rule(
    id="ev-load",
    severity=Severity.ERROR,
    title="vehicle charging is not taken as continuous load",
    why=(
        "A vehicle charges for hours at full current. Taken as an ordinary load, its breaker runs at the edge "
        "all night."
    ),
    clause="625.42",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    ev-charger  "Space 1"       7.2 kW, 208 V 1-phase, noncontinuous, 90 ft
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
    main        breaker 225 A
    place       indoor "Electrical room"
    ev-charger  "Space 1"       7.2 kW, 208 V 1-phase, 90 ft
}
""",
    check=check,
    applies=reach.loads_of("ev-charger"),
)
