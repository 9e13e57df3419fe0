"""gear does not fit the class that it is given."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules import reach
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="class-limits",
    severity=Severity.ERROR,
    title="gear does not fit the class that it is given",
    why="The three classes are built to different limits; past them nothing is sold, or only as a special order.",
    clause="practice",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 1600 A, LSIG
    place       indoor "Electrical room"
    equipment   "Furnace"       70 A, 480 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MDP "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 1600 A, LSIG
    place       indoor "Electrical room"
    equipment   "Furnace"       70 A, 480 V 3-phase, 60 ft
}
""",
    applies=reach.gear,
)
