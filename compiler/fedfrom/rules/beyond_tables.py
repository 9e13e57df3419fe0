"""Something lies beyond the tables, so it is neither chosen nor computed."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.results.notation import amperes_text, size_text
from fedfrom.results.types import CircuitResult, FeederResult
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import of_the_utility
from fedfrom.tables import lookup


def check(design: Design) -> Iterator[Finding]:
    for feeder in design.results.feeders.values():
        if not feeder.status.is_gone and not of_the_utility(design, feeder):
            yield from _conductors(design, feeder.id, feeder)
    for rows in design.results.circuits.values():
        for row in rows:
            if row.kind in ("load", "tap") and not row.status.is_gone:
                yield from _device(design, row)
                yield from _conductors(design, row.key, row)


def _device(design: Design, row: CircuitResult) -> Iterator[Finding]:
    """A circuit whose load is known and which has no device: its current lies above the largest standard one."""
    largest = lookup.standard_ratings(design.edition)[-1]
    if row.device is not None or row.load_a is None or row.load_a <= largest:
        return
    yield Finding(
        rule="beyond-tables",
        severity=Severity.NOT_CHECKED,
        subject=row.key,
        message=(
            f"{row.key}: {amperes_text(row.load_a)} is above {amperes_text(largest)}, the largest standard device: "
            "neither device nor conductors are chosen"
        ),
        span=row.span,
        help="divide the load over several circuits",
        clause=design.edition.clause("240.6(A)"),
    )


def _conductors(design: Design, subject: str, run: FeederResult | CircuitResult) -> Iterator[Finding]:
    """Conductors that are known and whose impedance the table does not have: no drop and no fault at their end."""
    wires = run.conductors
    if wires is None or not wires.phase or not run.length_ft:
        return
    if wires.r_ohm_per_kft is not None and wires.x_ohm_per_kft is not None:
        return
    yield Finding(
        rule="beyond-tables",
        severity=Severity.NOT_CHECKED,
        subject=subject,
        message=(
            f"{subject}: the table has no impedance of {size_text(wires.phase)} {wires.material} in "
            f"{wires.raceway_kind}: drop and fault at its end are not computed"
        ),
        span=run.span,
        help="write `impedance R ohm X ohm per 1000 ft` from the maker's data, or take a size of the table",
        clause=design.edition.clause("Chapter 9 Table 9"),
    )


RULE = Rule(
    id="beyond-tables",
    severity=Severity.NOT_CHECKED,
    title="something lies beyond the tables, so it is neither chosen nor computed",
    why="A value read past the end of a table would look like a result, so what is missing is said instead.",
    clause="Chapter 9 Table 9",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    equipment   "Furnace"       370 kVA, 480 V 3-phase, 60 ft, phase 700 kcmil
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    equipment   "Furnace"       300 kVA, 480 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.conductors,
)
