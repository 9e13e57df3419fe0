"""The load of a branch circuit is greater than its device may carry."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.sizing_devices import protecting_rating
from fedfrom.results.notation import amperes_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of


def check(design: Design) -> Iterator[Finding]:
    for circuit in review_of(design).circuits:
        row, need = circuit.row, circuit.need
        rating = protecting_rating(row.device)
        if rating is None or row.device is None or need.terminal_a is None or need.carried_a is None:
            continue
        full = need.device_may_exceed or "100 % rated" in row.device.options
        needed = need.carried_a if full else need.terminal_a
        if need.device_may_exceed:
            # Conductors of motors carry 125 %; the device only has to carry the current itself.
            needed = row.table_a or row.mca_a or row.load_a or 0.0
        if needed <= rating + 0.001:
            continue
        yield breach(
            "circuit-overload",
            row.key,
            f"{row.key}: {amperes_text(needed)} on a device of {amperes_text(rating)}",
            row.device.span or row.span,
            design.edition.clause("210.20(A)"),
            tuple(f"{step.formula}: {step.numbers}" for step in need.steps[:1]),
            "take a larger device, or divide the load",
        )


RULE = Rule(
    id="circuit-overload",
    severity=Severity.ERROR,
    title="the load of a branch circuit is greater than its device may carry",
    why="A device may carry noncontinuous load up to its rating, continuous load only up to 80 % of it.",
    clause="210.20(A)",
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
    equipment   "Fan wall"      2.2 kVA, continuous, 60 ft, breaker 20 A
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
    equipment   "Fan wall"      1.9 kVA, continuous, 60 ft, breaker 20 A
}
""",
    check=check,
    applies=reach.circuits,
)
