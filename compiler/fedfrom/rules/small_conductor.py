"""A small conductor has an overcurrent device above its limit."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.results.notation import amperes_text, size_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of
from fedfrom.tables import lookup


def check(design: Design) -> Iterator[Finding]:
    for wiring in review_of(design).wirings:
        request, conductors = wiring.request, wiring.conductors
        if request.device_a is None or request.device_may_exceed:
            continue
        limit = lookup.small_conductor_limit(design.edition, conductors.material, conductors.phase)
        if limit is None or request.device_a <= limit:
            continue
        size = size_text(conductors.phase)
        yield breach(
            "small-conductor",
            wiring.subject,
            f"{wiring.subject}: {size} {conductors.material} on {amperes_text(request.device_a)}",
            wiring.span,
            design.edition.clause("240.4(D)"),
            (f"limit for {size} {conductors.material}: {amperes_text(limit)}",),
            "take a larger conductor or a smaller device",
        )


RULE = Rule(
    id="small-conductor",
    severity=Severity.ERROR,
    title="a small conductor has an overcurrent device above its limit",
    why="14, 12 and 10 AWG have limits of their own, below their ampacity, because they heat quickly.",
    clause="240.4(D)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
    equipment   "Oven"          22 A, 120 V, 40 ft, breaker 25 A, phase 12 AWG
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
    main        breaker 400 A
    place       indoor "Electrical room"
    equipment   "Oven"          22 A, 120 V, 40 ft, breaker 25 A, phase 10 AWG
}
""",
    check=check,
    applies=reach.conductors,
)
