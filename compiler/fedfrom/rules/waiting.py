"""Checks that cannot be made until the errors in the text are mended: never alone, always beside such an error."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="waiting",
    severity=Severity.NOT_CHECKED,
    title="checks wait for the errors in the text",
    why=(
        "Where a line cannot be read, nothing below it is known. Repeating that for every check would bury the one "
        "line that is wrong, so these checks are counted in one place. They are not passed: they are made as soon as "
        "the text can be read."
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
panelboard LP1 {
    fed from    MPD, 40 ft, breaker 100 A
    place       indoor "Hall"
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
panelboard LP1 {
    fed from    MDP, 40 ft, breaker 100 A
    place       indoor "Hall"
}
""",
)
