"""the two fault figures of a utility are far apart."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules import reach
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="utility-figures-disagree",
    severity=Severity.WARNING,
    title="the two fault figures of a utility are far apart",
    why="One of them belongs to another place or another time, and every rating below follows from it.",
    clause="practice",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    transformer 1500 kVA, 5.75 %, X/R 6
    primary     12.47 kV, fault 180 MVA, X/R 8
    fault       12 kA at service point, X/R 5
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    equipment   "Furnace"       70 A, 480 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    transformer 1500 kVA, 5.75 %, X/R 6
    primary     12.47 kV, fault 180 MVA, X/R 8
    fault       26 kA at service point, X/R 5
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    equipment   "Furnace"       70 A, 480 V 3-phase, 60 ft
}
""",
    applies=reach.services,
)
