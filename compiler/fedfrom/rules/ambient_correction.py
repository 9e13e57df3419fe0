"""The ambient temperature takes conductors below their load."""

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
        if short is None or short.cause != "ambient":
            continue
        yield breach(
            "ambient-correction",
            wiring.subject,
            f"{wiring.subject}: {short.message}",
            wiring.span,
            design.edition.clause("310.15(B)(1)"),
            short.notes,
            "take a larger conductor or a cooler route",
        )


RULE = Rule(
    id="ambient-correction",
    severity=Severity.ERROR,
    title="the ambient temperature takes conductors below their load",
    why="Ampacity tables hold for 30 C; in a hotter place a conductor cannot give off as much heat.",
    clause="310.15(B)(1)",
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
    equipment   "Kiln" 100 A, 208 V 3-phase, 60 ft, breaker 100 A, phase 3 AWG, ambient 60 C
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
    equipment   "Kiln" 100 A, 208 V 3-phase, 60 ft, breaker 100 A, phase 3 AWG, ambient 30 C
}
""",
    check=check,
    applies=reach.conductors,
)
