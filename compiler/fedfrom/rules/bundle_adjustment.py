"""The number of conductors in the raceway takes them below their load."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.sizing_limits import ampacity_shortfall, has_motor_rule
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of


def check(design: Design) -> Iterator[Finding]:
    for wiring in review_of(design).wirings:
        short = None if has_motor_rule(wiring) else ampacity_shortfall(design.edition, wiring)
        if short is None or short.cause != "adjustment":
            continue
        yield breach(
            "bundle-adjustment",
            wiring.subject,
            f"{wiring.subject}: {short.message}",
            wiring.span,
            design.edition.clause("310.15(C)(1)"),
            short.notes,
            "take a larger conductor, or fewer in the raceway",
        )


RULE = Rule(
    id="bundle-adjustment",
    severity=Severity.ERROR,
    title="the number of conductors in the raceway takes them below their load",
    why="More than three current-carrying conductors in one raceway heat each other.",
    clause="310.15(C)(1)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
    equipment   "Servers"       100 A, 208 V 3-phase, 20 ft {
        breaker     100 A
        phase       3 AWG
        neutral     3 AWG
        nonlinear
    }
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
    main        breaker 400 A
    place       indoor "Electrical room"
    equipment   "Servers" 100 A, 208 V 3-phase, 20 ft, breaker 100 A, phase 3 AWG, neutral 3 AWG
}
""",
    check=check,
    applies=reach.conductors,
)
