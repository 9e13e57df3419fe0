"""Both ends of a tie are one bus. The finding is made while the text is read."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="malformed-tie",
    severity=Severity.ERROR,
    title="both ends of a tie are one bus",
    why="A tie joins two buses.",
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
tie TIE between MDP and MDP, breaker 100 A, normally open
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
panelboard MDP-B "Main panel, bus B" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
}
tie TIE between MDP and MDP-B, breaker 100 A, normally open
interlock key, at most 2 of MDP.main, MDP-B.main, TIE
""",
)
