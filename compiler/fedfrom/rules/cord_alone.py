"""One cord of a load stands without the other. The finding is made while the text is read."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules import reach
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="cord-alone",
    severity=Severity.ERROR,
    title="one cord of a load stands without the other",
    why="The load would be counted half, or not at all.",
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
    1,3         equipment   RK-1 "Rack"     4 kW, 208 V 1-phase, cord A, 40 ft
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
    1,3         equipment   RK-1 "Rack"     4 kW, 208 V 1-phase, cord A, 40 ft
    2,4         equipment   RK-1, cord B, 40 ft
}
""",
    applies=reach.circuits,
)
