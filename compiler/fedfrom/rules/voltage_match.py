"""Gear or a load needs volts or phases that its source does not give."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="voltage-match",
    severity=Severity.ERROR,
    title="gear or a load needs volts or phases that its source does not give",
    why=(
        "Equipment on the wrong voltage fails at once or slowly; 240 V equipment on 208 V gives three "
        "quarters of its heat."
    ),
    clause="110.4",
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
    heating     "Unit heater"   5 kW, 240 V 1-phase, 30 ft
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
    heating     "Unit heater"   5 kW, 208 V 1-phase, 30 ft
}
""",
)
