"""more voltage is lost from the service to the last outlet than the project allows."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    limit = design.model.defaults.drop_total_pct
    if limit is None:
        return
    for rows in design.results.circuits.values():
        for row in rows:
            total = row.cumulative_drop_pct
            if row.kind != "load" or total is None or total <= limit.value:
                continue
            yield breach(
                "drop-total",
                row.key,
                f"{row.key}: {total:.1f} % drop from the service to the end of the circuit, over {limit.value:g} %",
                row.span,
                design.edition.clause("practice"),
                (f"{row.drop_pct or 0:.1f} % of it in the branch circuit; state: {row.drop_state}",),
                "take larger conductors in the feeder or the branch circuit; or accept it with a reason",
                Severity.WARNING,
            )


RULE = Rule(
    id="drop-total",
    severity=Severity.WARNING,
    title="more voltage is lost from the service to the last outlet than the project allows",
    why="Feeder and branch each within their limits may still add up to too much at the outlet.",
    clause="practice",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
defaults { drop feeder 2 %, branch 3 %, total 3 % }
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
    fed from    MSB, 210 ft, breaker 100 A, phase 3 AWG
    place       indoor "Hall"
    equipment   "Furnace"       70 A, 480 V 3-phase, 280 ft, phase 3 AWG
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
    fed from    MSB, 210 ft, breaker 100 A, phase 3 AWG
    place       indoor "Hall"
    equipment   "Furnace"       70 A, 480 V 3-phase, 280 ft, phase 3 AWG
}
""",
    check=check,
    applies=reach.circuits,
)
