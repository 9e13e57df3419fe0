"""An optional method of load calculation is used where it does not apply."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules import reach
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="dwelling-optional",
    severity=Severity.ERROR,
    title="an optional method of load calculation is used where it does not apply",
    why="The optional methods give less; the code allows them only for what they were found on.",
    clause="220.80",
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
    method      optional multifamily
    equipment   "Press"         6 kVA, 208 V 3-phase, 30 ft
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
    equipment   "Press"         6 kVA, 208 V 3-phase, 30 ft
}
""",
    applies=reach.has_fact("method"),
)
