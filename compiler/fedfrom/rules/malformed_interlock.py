"""An interlock prevents nothing. The finding is made while the text is read."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="malformed-interlock",
    severity=Severity.ERROR,
    title="an interlock prevents nothing",
    why="Review asks what keeps two sources apart; this answers nothing.",
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
generator G1 {
    rating          60 kW
    voltage         208Y/120 V
    subtransient    12 %
    place           outdoor "Yard"
}
panelboard EP1 "Shelter" {
    fed from        MDP, 30 ft, breaker 100 A
    alternate from  G1, 30 ft, breaker 100 A
    place           indoor "Shelter"
}
interlock key, at most 2 of EP1.normal, EP1.alternate
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
generator G1 {
    rating          60 kW
    voltage         208Y/120 V
    subtransient    12 %
    place           outdoor "Yard"
}
panelboard EP1 "Shelter" {
    fed from        MDP, 30 ft, breaker 100 A
    alternate from  G1, 30 ft, breaker 100 A
    place           indoor "Shelter"
}
interlock key, at most 1 of EP1.normal, EP1.alternate
""",
)
