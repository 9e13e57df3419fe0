"""A tag has signs that a tag may not have. The finding is made while the text is read."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="malformed-tag",
    severity=Severity.ERROR,
    title="a tag has signs that a tag may not have",
    why="A dot in a tag would read as a part of something.",
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
panelboard LP.1 {
    fed from    MDP, 40 ft, breaker 100 A
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
panelboard LP-1 {
    fed from    MDP, 40 ft, breaker 100 A
    place       indoor "Hall"
}
""",
)
