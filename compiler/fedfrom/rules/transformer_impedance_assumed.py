"""a fault study takes a typical transformer impedance."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules import reach
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="transformer-impedance-assumed",
    severity=Severity.NOTE,
    title="a fault study takes a typical transformer impedance",
    why="Fault currents and ratings below follow from it; the nameplate replaces it.",
    clause="practice",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       12 kA at service point, X/R 4
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
}
transformer T1 {
    fed from    MDP, 20 ft
    secondary   208Y/120 V
    rating      75 kVA
    electrode   building steel, 20 ft
}
panelboard LP1 "Offices" {
    fed from    T1, 12 ft
    main        breaker
    place       indoor "Electrical room"
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       12 kA at service point, X/R 4
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
}
transformer T1 {
    fed from    MDP, 20 ft
    secondary   208Y/120 V
    rating      75 kVA
    impedance   4.7 %, X/R 1.8
    electrode   building steel, 20 ft
}
panelboard LP1 "Offices" {
    fed from    T1, 12 ft
    main        breaker
    place       indoor "Electrical room"
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
""",
    applies=reach.transformers,
)
