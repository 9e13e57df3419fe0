"""A place is in a room that no statement describes. The finding is made while the text is read."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="room-missing",
    severity=Severity.NOT_CHECKED,
    title="a place is in a room that no statement describes",
    why="Working space, doors and clearances are asked of the room.",
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
    fed from    MDP, 40 ft, breaker 100 A
    place       E101
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
room E101 "Electrical" { level 1, size 12 ft x 10 ft, height 9 ft }
panelboard LP1 {
    fed from    MDP, 40 ft, breaker 100 A
    place       E101
}
""",
)
