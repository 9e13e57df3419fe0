"""Words stand where they cannot. The finding is made while the text is read."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="unexpected-words",
    severity=Severity.ERROR,
    title="words stand where they cannot",
    why="What is not understood must not be skipped.",
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
    enclosure   1
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
    enclosure   Type 1
}
""",
)
