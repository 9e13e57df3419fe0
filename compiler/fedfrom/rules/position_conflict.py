"""Positions are taken twice, do not exist, or are not neighbours on one side."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="position-conflict",
    severity=Severity.ERROR,
    title="positions are taken twice, do not exist, or are not neighbours on one side",
    why="A device stands in neighbouring positions of one side, and no two devices stand in one place.",
    clause="practice",
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
    1           equipment   "Kiosk"         1 kVA, 120 V, 30 ft
    1           equipment   "Gate"          1 kVA, 120 V, 30 ft
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
    1           equipment   "Kiosk"         1 kVA, 120 V, 30 ft
    3           equipment   "Gate"          1 kVA, 120 V, 30 ft
}
""",
)
