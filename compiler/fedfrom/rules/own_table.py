"""A table of the project's own lacks a column, or has a row that cannot be used."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="own-table",
    severity=Severity.ERROR,
    title="a table of the project's own lacks a column, or has a row that cannot be used",
    why=(
        "Limits of a maker replace ours row by row. A row with a slip in it would be left out without a word, and the "
        "old limit would decide."
    ),
    clause="",
    bad="""fedfrom 1
project "Example" {
    code    NEC 2023
    limits  "slip.csv"
}
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
}
""",
    good="""fedfrom 1
project "Example" {
    code    NEC 2023
    limits  "limits.csv"
}
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
}
""",
    files={
        "slip.csv": "class,attribute,value\npanelboard,main_max_a,twelve hundred\n",
        "limits.csv": "class,attribute,value\npanelboard,main_max_a,1200\n",
    },
)
