"""More operating states follow from the sources and ties than are computed."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="too-many-states",
    severity=Severity.ERROR,
    title="more operating states follow from the sources and ties than are computed",
    why="A state that is not computed is a state in which nothing was checked.",
    clause="practice",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
for n in 1..70 {
    utility U[n] {
        voltage     208Y/120 V
        fault       9 kA at service point, X/R 5
    }
    panelboard P[n] "Kiosk [n]" {
        fed from    U[n], 20 ft
        main        breaker 100 A
        place       indoor "Kiosk [n]"
    }
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility U1 {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard P1 "Kiosk 1" {
    fed from    U1, 20 ft
    main        breaker 100 A
    place       indoor "Kiosk 1"
}
utility U2 {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard P2 "Kiosk 2" {
    fed from    U2, 20 ft
    main        breaker 100 A
    place       indoor "Kiosk 2"
}
""",
)
