"""One circuit carries more lighting or receptacle load than a 20 A circuit takes."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.results.notation import amperes_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

LARGEST_A = 20.0
KINDS = frozenset({"lighting", "receptacles"})


def check(design: Design) -> Iterator[Finding]:
    """Pinned circuits: open ones are divided by the compiler."""
    for rows in design.results.circuits.values():
        for row in rows:
            kinds = set(row.category.split(", "))
            if row.kind != "load" or not kinds <= KINDS or row.load_a is None or row.poles == 3:
                continue
            needed = row.load_a * (1.25 if row.continuous else 1.0)
            if needed <= LARGEST_A + 0.05 or row.status in (Status.EXISTING, Status.DEMOLISH):
                continue
            yield breach(
                "general-circuit",
                row.key,
                f"{row.key} carries {amperes_text(row.load_a)} of {row.category} on one circuit",
                row.span,
                design.edition.clause("210.23"),
                (f"{amperes_text(needed)} with continuous load at 125 %, over {LARGEST_A:g} A",),
                "leave the position open and the load is divided, or write `x 2`",
                Severity.WARNING,
            )


RULE = Rule(
    id="general-circuit",
    severity=Severity.WARNING,
    title="one circuit carries more lighting or receptacle load than a 20 A circuit takes",
    why="Circuits over 20 A may serve only heavy-duty lampholders and receptacles of their own rating.",
    clause="210.23",
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
    1           lighting    "Hall"          3 kVA, 60 ft
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
    lighting    "Hall"          3 kVA, 60 ft
}
""",
    check=check,
    applies=reach.circuits,
)
