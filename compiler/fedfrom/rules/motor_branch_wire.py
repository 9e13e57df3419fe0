"""The conductors of a motor circuit are too small."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.sizing_limits import ampacity_shortfall
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of


def check(design: Design) -> Iterator[Finding]:
    for circuit in review_of(design).circuits:
        if (circuit.row.motor_hp is None and circuit.row.table_a is None) or circuit.wiring is None:
            continue
        short = ampacity_shortfall(design.edition, circuit.wiring)
        if short is None:
            continue
        yield breach(
            "motor-branch-wire",
            circuit.row.key,
            f"{circuit.row.key}: {short.message}",
            circuit.wiring.span,
            design.edition.clause(circuit.need.clause or "430.22"),
            short.notes,
            "take a larger conductor",
        )


RULE = Rule(
    id="motor-branch-wire",
    severity=Severity.ERROR,
    title="the conductors of a motor circuit are too small",
    why="A motor runs above its rated current at times; its conductors carry 125 % of the table current.",
    clause="430.22",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
    motor       "Pump"          25 hp, 40 ft, phase 10 AWG
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
    motor       "Pump"          25 hp, 40 ft, phase 8 AWG
}
""",
    check=check,
    applies=reach.motors,
)
