"""a feeder loses more voltage than the project allows."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked, of_the_utility


def check(design: Design) -> Iterator[Finding]:
    for feeder in design.results.feeders.values():
        limit = feeder.drop_limit_pct
        if limit is None or feeder.status.is_gone or of_the_utility(design, feeder):
            continue
        if feeder.drop_pct is None:
            if feeder.length_ft is not None:
                needs = f"the load and the conductors of the feeder to {feeder.target}"
                yield not_checked("drop-feeder", feeder.id, needs, feeder.span, design.edition.clause("practice"))
            continue
        if feeder.drop_pct > limit:
            yield breach(
                "drop-feeder",
                feeder.id,
                f"{feeder.id}: {feeder.drop_pct:.1f} % drop in the feeder from {feeder.source}, over {limit:g} %",
                feeder.span,
                design.edition.clause("practice"),
                (f"{feeder.drop_v or 0:.1f} V over {feeder.length_ft or 0:g} ft, state: {feeder.worst_state}",),
                "take larger conductors or more sets; or accept it with a reason",
                Severity.WARNING,
            )


RULE = Rule(
    id="drop-feeder",
    severity=Severity.WARNING,
    title="a feeder loses more voltage than the project allows",
    why="The drop of a feeder is shared by everything below it and leaves less for the branch circuits.",
    clause="practice",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
defaults { drop feeder 2 %, branch 3 %, total 20 % }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       indoor "Electrical room"
}
panelboard DP1 "Hall" {
    fed from    MSB, 900 ft, breaker 100 A, phase 3 AWG
    place       indoor "Hall"
    equipment   "Furnace"       70 A, 480 V 3-phase, 20 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
defaults { drop feeder 2 %, branch 3 %, total 5 % }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       indoor "Electrical room"
}
panelboard DP1 "Hall" {
    fed from    MSB, 100 ft, breaker 100 A, phase 3 AWG
    place       indoor "Hall"
    equipment   "Furnace"       70 A, 480 V 3-phase, 20 ft
}
""",
    check=check,
    applies=reach.feeders,
)
