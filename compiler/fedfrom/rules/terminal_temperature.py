"""The temperature rating of the terminals limits the ampacity."""

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
        if short is None or short.cause != "terminal":
            continue
        yield breach(
            "terminal-temperature",
            wiring.subject,
            f"{wiring.subject}: {short.message}",
            wiring.span,
            design.edition.clause("110.14(C)(1)"),
            short.notes,
            "take a larger conductor, or state terminals that are listed for a higher temperature",
        )


RULE = Rule(
    id="terminal-temperature",
    severity=Severity.ERROR,
    title="the temperature rating of the terminals limits the ampacity",
    why="Terminals pass heat to the conductor: a 90 C conductor may only carry what their column says.",
    clause="110.14(C)(1)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
defaults { terminals 60 C }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
    equipment   "Kiln"          60 A, 208 V 3-phase, 60 ft, breaker 60 A, phase 6 AWG
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
    equipment   "Kiln"          60 A, 208 V 3-phase, 60 ft, breaker 60 A, phase 6 AWG
}
""",
    check=check,
    applies=reach.conductors,
)
