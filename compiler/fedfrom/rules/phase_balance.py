"""The phases of a panel are further apart than they need to be."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.results.governing import governing_load
from fedfrom.results.notation import kva_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

LIMIT_PCT = 10.0  # of the mean; common practice, from memory


def check(design: Design) -> Iterator[Finding]:
    """Only where a 1-pole circuit is there whose move would help; a high leg is never balanced."""
    for tag, rows in design.results.circuits.items():
        node = design.network.nodes[tag]
        load = governing_load(design.results, tag)
        if load is None or node.system is None or node.system.kind in ("two-wire", "isolated", "high-leg delta"):
            continue
        letters = "ABC" if node.system.phases == 3 else "AB"
        values = load.phase_va[: len(letters)]
        mean = sum(values) / len(values)
        apart = (max(values) - mean) / mean * 100 if mean > 0 else 0.0
        if apart <= LIMIT_PCT:
            continue
        heavy = letters[values.index(max(values))]
        gap = max(values) - min(values)
        movable = [
            row
            for row in rows
            if row.kind == "load"
            and row.phases == heavy
            and row.status not in (Status.EXISTING, Status.DEMOLISH)
            and 0 < (row.connected_va or 0.0) < gap
        ]
        if not movable:
            continue
        best = min(movable, key=lambda row: abs((row.connected_va or 0.0) - gap / 2))
        light = letters[values.index(min(values))]
        yield breach(
            "phase-balance",
            tag,
            f"phase {heavy} of {tag} carries {apart:.0f} % more than the mean of its phases",
            node.item.tag_span,
            design.edition.clause("practice"),
            (", ".join(f"{letter} {kva_text(value)}" for letter, value in zip(letters, values, strict=True)),),
            f"move {f'{best.key} {best.name}'.strip()} to phase {light}",
            Severity.NOTE,
        )


RULE = Rule(
    id="phase-balance",
    severity=Severity.NOTE,
    title="the phases of a panel are further apart than they need to be",
    why="The heaviest phase sizes the feeder; moving one circuit would make it smaller.",
    clause="practice",
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
    1           equipment   "Kiosk 1"       1.5 kVA, 120 V, 30 ft
    2           equipment   "Kiosk 2"       1.5 kVA, 120 V, 30 ft
    7           equipment   "Kiosk 3"       1.5 kVA, 120 V, 30 ft
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
    1           equipment   "Kiosk 1"       1.5 kVA, 120 V, 30 ft
    3           equipment   "Kiosk 2"       1.5 kVA, 120 V, 30 ft
    5           equipment   "Kiosk 3"       1.5 kVA, 120 V, 30 ft
}
""",
    check=check,
    applies=reach.gear,
)
