"""A breaker serves as a switch and is not made for it."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import placed_loads
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

LISTED = frozenset(("SWD", "HID"))


def check(design: Design) -> Iterator[Finding]:
    for placed in placed_loads(design, "lighting"):
        if placed.part.facts.first("breaker-switched") is None or LISTED & placed.options:
            continue
        yield breach(
            "breaker-switched",
            placed.subject,
            f"{placed.subject}: the breaker switches lighting and is not marked SWD or HID",
            placed.span,
            design.edition.clause("240.83(D)"),
            advice="write `SWD`, or `HID` for discharge lamps",
            severity=Severity.WARNING,
        )


RULE = Rule(
    id="breaker-switched",
    severity=Severity.WARNING,
    title="a breaker serves as a switch and is not made for it",
    why=(
        "A breaker that is thrown every day wears out. One that is listed for switching lighting (SWD, HID) "
        "has been tested for thousands of throws."
    ),
    clause="240.83(D)",
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
    lighting    "Gymnasium"     1.6 kVA, 120 V, 90 ft, breaker-switched
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
    lighting    "Gymnasium"     1.6 kVA, 120 V, 90 ft, breaker-switched, breaker 20 A, SWD
}
""",
    check=check,
    applies=reach.load_fact("breaker-switched"),
)
