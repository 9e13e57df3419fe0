"""A tag is used that nothing bears. The finding is made while the text is read."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="unknown-tag",
    severity=Severity.ERROR,
    title="a tag is used that nothing bears",
    why="A feed from nowhere carries nothing, and its load is in no calculation.",
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
    fed from    MPD, 40 ft, breaker 100 A
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
