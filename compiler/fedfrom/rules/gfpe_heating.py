"""Heating cable has no ground-fault protection of equipment."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import placed_loads
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

CLAUSES = {"heat trace": "427.22", "deicing": "426.28"}
PROTECTED = frozenset(("GFPE", "GFCI"))


def check(design: Design) -> Iterator[Finding]:
    for placed in placed_loads(design):
        for use, key in CLAUSES.items():
            if placed.part.facts.first(use) is None or PROTECTED & placed.options:
                continue
            yield breach(
                "gfpe-heating",
                placed.subject,
                f"{placed.subject}: {use} without ground-fault protection of equipment",
                placed.span,
                design.edition.clause(key),
                advice="write `GFPE` (30 mA) for the device of this circuit",
            )


RULE = Rule(
    id="gfpe-heating",
    severity=Severity.ERROR,
    title="heating cable has no ground-fault protection of equipment",
    why=(
        "A cut heating cable arcs to its own sheath and burns along its length without ever drawing enough to "
        "trip a breaker."
    ),
    clause="427.22",
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
    heating     "Sprinkler main"        1.2 kW, 120 V, 90 ft, heat trace
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
    heating     "Sprinkler main"        1.2 kW, 120 V, 90 ft, heat trace, GFPE
}
""",
    check=check,
    applies=reach.load_fact("heat trace", "deicing"),
)
