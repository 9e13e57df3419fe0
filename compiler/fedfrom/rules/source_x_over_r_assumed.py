"""a utility fault current is given without its X/R."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules import reach
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="source-x-over-r-assumed",
    severity=Severity.NOTE,
    title="a utility fault current is given without its X/R",
    why="X/R decides how far the fault falls along the feeders and whether ratings need a factor.",
    clause="practice",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
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
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
""",
    applies=reach.services,
)
