"""`at` stands on something that is no busway. The finding is made while the text is read."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="not-a-busway",
    severity=Severity.ERROR,
    title="`at` stands on something that is no busway",
    why="Only along a busway is a place a distance.",
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
}
panelboard LP1 {
    fed from    MDP at 30 ft, 40 ft, breaker 100 A
    place       indoor "Hall"
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
}
panelboard LP1 {
    fed from    MDP, 40 ft, breaker 100 A
    place       indoor "Hall"
}
""",
)
