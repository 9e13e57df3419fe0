"""Gear feeds itself, or two sources run in parallel that nobody asked for."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="radial-states",
    severity=Severity.ERROR,
    title="gear feeds itself, or two sources run in parallel that nobody asked for",
    why=(
        "Every piece of gear has one path to a source in each operating state; a circle or a second path "
        "makes fault currents, loads and settings wrong."
    ),
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
panelboard LP1 "Offices" {
    fed from    LP2, 30 ft
    place       indoor "Room 12"
}
panelboard LP2 "Store" {
    fed from    LP1, 30 ft
    place       indoor "Store"
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
panelboard LP1 "Offices" {
    fed from    MDP, 30 ft
    place       indoor "Room 12"
}
panelboard LP2 "Store" {
    fed from    LP1, 30 ft
    place       indoor "Store"
}
""",
)
