"""Positions, volts and phases do not go together. The finding is made while the text is read."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="poles-disagree",
    severity=Severity.ERROR,
    title="positions, volts and phases do not go together",
    why="One of them is wrong, and no precedence may decide which.",
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
    1,3         motor       "Fan"           5 hp, 208 V 3-phase, 40 ft
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
    1,3,5       motor       "Fan"           5 hp, 208 V 3-phase, 40 ft
}
""",
)
