"""Conductors smaller than 1/0 AWG are in parallel."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.formulas.ampacity import may_be_paralleled
from fedfrom.results.notation import size_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of


def check(design: Design) -> Iterator[Finding]:
    for wiring in review_of(design).wirings:
        if wiring.conductors.sets > 1 and not may_be_paralleled(wiring.option.area_kcmil):
            size = size_text(wiring.conductors.phase)
            yield breach(
                "parallel-min",
                wiring.subject,
                f"{wiring.subject}: {wiring.conductors.sets} sets of {size}",
                wiring.span,
                design.edition.clause("310.10(G)"),
                advice="take 1/0 AWG or larger, or one set of a larger conductor",
            )


RULE = Rule(
    id="parallel-min",
    severity=Severity.ERROR,
    title="conductors smaller than 1/0 AWG are in parallel",
    why="Small conductors share current badly; the code allows parallel sets from 1/0 AWG up.",
    clause="310.10(G)",
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
}
panelboard LP "Lighting" {
    fed from    MDP, 60 ft, breaker 200 A, sets 2, phase 1 AWG
    main        lugs
    place       indoor "Room 2"
    equipment   "Process"       90 A, 208 V 3-phase, 20 ft
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
}
panelboard LP "Lighting" {
    fed from    MDP, 60 ft, breaker 200 A, sets 2, phase 1/0 AWG
    main        lugs
    place       indoor "Room 2"
    equipment   "Process"       90 A, 208 V 3-phase, 20 ft
}
""",
    check=check,
    applies=reach.conductors,
)
