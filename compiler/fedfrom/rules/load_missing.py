"""A load line does not say how big the load is."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules import reach
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="load-missing",
    severity=Severity.NOT_CHECKED,
    title="a load line does not say how big the load is",
    why=("A load is a fact: it is never guessed, and every total above it is a lower bound until it is written."),
    clause="",
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
    equipment   "Press", 208 V 3-phase, 30 ft
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
    equipment   "Press"         6 kVA, 208 V 3-phase, 30 ft
}
""",
    applies=reach.circuits,
)
