"""Generator conductors are too small."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.sizing_limits import ampacity_shortfall
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked, review_of


def check(design: Design) -> Iterator[Finding]:
    for each in review_of(design).feeders:
        if each.feeder.kind != "generator":
            continue
        clause = design.edition.clause("445.13(A)")
        if each.plan.capacity_a is None:
            needs = f"the rating of {each.feeder.source}"
            yield not_checked("generator-conductor", each.feeder.id, needs, each.feeder.span, clause)
            continue
        short = ampacity_shortfall(design.edition, each.wiring) if each.wiring is not None else None
        if short is None or short.cause != "least" or each.wiring is None:
            continue
        yield breach(
            "generator-conductor",
            each.feeder.id,
            f"{each.feeder.id}: {short.message}",
            each.wiring.span,
            clause,
            short.notes,
            "take larger conductors",
        )


RULE = Rule(
    id="generator-conductor",
    severity=Severity.ERROR,
    title="generator conductors are too small",
    why="A generator can deliver more than its nameplate before anything opens.",
    clause="445.13(A)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
generator G1 {
    rating          100 kW
    voltage         208Y/120 V
    subtransient    12 %
}
panelboard EP "Emergency" {
    fed from    G1, 20 ft, breaker 200 A, phase 3/0 AWG
    place       indoor "Room 2"
    receptacles "Offices"       8 outlets, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
generator G1 {
    rating          100 kW
    voltage         208Y/120 V
    subtransient    12 %
}
panelboard EP "Emergency" {
    fed from    G1, 20 ft, breaker 350 A
    place       indoor "Room 2"
    receptacles "Offices"       8 outlets, 60 ft
}
""",
    check=check,
    applies=reach.kinds("generator"),
)
