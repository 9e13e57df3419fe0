"""Conductors carry less than their load, or than their device allows."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.sizing_limits import ampacity_shortfall, has_motor_rule
from fedfrom.passes.sizing_review import FeederReview, Wiring
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of
from fedfrom.source import Span


def check(design: Design) -> Iterator[Finding]:
    laid_open = review_of(design)
    for circuit in laid_open.circuits:
        if circuit.wiring is not None:
            yield from _check(design, circuit.wiring, None)
        elif circuit.row.device is not None and circuit.need.terminal_a is not None and circuit.row.conductors is None:
            yield _none_fits(design, circuit.row.key, circuit.row.span)
    for feeder in laid_open.feeders:
        if feeder.wiring is not None:
            yield from _check(design, feeder.wiring, feeder)
        elif feeder.plan.design_a is not None and feeder.feeder.conductors is None:
            yield _none_fits(design, feeder.feeder.id, feeder.feeder.span)


def _check(design: Design, wiring: Wiring, feeder: FeederReview | None) -> Iterator[Finding]:
    short = None if has_motor_rule(wiring) else ampacity_shortfall(design.edition, wiring)
    if short is None or short.cause not in ("ampacity", "least"):
        return
    if feeder is not None and _has_own_rule(feeder, short.cause):
        return
    yield breach(
        "conductor-ampacity",
        wiring.subject,
        f"{wiring.subject}: {short.message}",
        wiring.span,
        design.edition.clause("240.4(B)"),
        short.notes,
        "take a larger conductor, more sets or a smaller device",
    )


def _has_own_rule(feeder: FeederReview, cause: str) -> bool:
    """Taps, secondaries and generator conductors have rules of their own; the dwelling rule has not."""
    return cause == "least" and feeder.feeder.kind in ("tap", "secondary", "generator")


def _none_fits(design: Design, subject: str, span: Span | None) -> Finding:
    return breach(
        "conductor-ampacity",
        subject,
        f"{subject}: no conductor of the tables satisfies every rule",
        span,
        design.edition.clause("310.16"),
        ("the insulation, the ambient temperature or the load is beyond the tables",),
        "write another insulation, a cooler route, or the conductors",
    )


RULE = Rule(
    id="conductor-ampacity",
    severity=Severity.ERROR,
    title="conductors carry less than their load, or than their device allows",
    why="An overloaded conductor ages and can start a fire before its device opens.",
    clause="240.4(B)",
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
    equipment   "Kiln"          60 A, 208 V 3-phase, 60 ft, breaker 80 A, phase 8 AWG
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
    equipment   "Kiln"          60 A, 208 V 3-phase, 60 ft, breaker 80 A, phase 4 AWG
}
""",
    check=check,
    applies=reach.conductors,
)
