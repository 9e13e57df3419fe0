"""A device has something that its kind does not have. The finding is made while the text is read."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="device-mismatch",
    severity=Severity.ERROR,
    title="a device has something that its kind does not have",
    why="A breaker has no fuse, a switch no trip functions: the wrong device was meant.",
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
    lighting    "Hall"          1 kVA, 40 ft, breaker 20 A, fuse 20 A class J
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
    lighting    "Hall"          1 kVA, 40 ft, fused switch 30 A, fuse 20 A class J
}
""",
)
