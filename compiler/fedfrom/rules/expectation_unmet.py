"""What the text expects of the results is not so."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules import reach
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="expectation-unmet",
    severity=Severity.ERROR,
    title="what the text expects of the results is not so",
    why="An expectation is a test of the design: it fails when a later change breaks what was promised.",
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
expect fault at MDP <= 5 kA
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
expect fault at MDP <= 10 kA
""",
    applies=reach.expectations,
)
