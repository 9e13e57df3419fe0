"""A fault at the far end is so small that its device may not see it in time."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.passes.practice import assumption
from fedfrom.results.notation import amperes_text
from fedfrom.results.types import CircuitResult, FeederResult
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    multiple = assumption(design.edition, "least_fault_multiple")
    for feeder in design.results.feeders.values():
        if feeder.verb != "connects to":
            yield from _check(design, feeder.id, feeder, multiple)
    for rows in design.results.circuits.values():
        for row in rows:
            if row.kind == "load":
                yield from _check(design, row.key, row, multiple)


def _check(design: Design, subject: str, run: FeederResult | CircuitResult, multiple: float) -> Iterator[Finding]:
    device = run.device
    if device is None or run.least_fault_a is None or device.kind == "switch" or run.status is Status.DEMOLISH:
        return
    if run.least_fault_a >= multiple * device.protects_a:
        return
    yield breach(
        "least-fault",
        subject,
        f"{subject}: the smallest fault at its far end is {amperes_text(run.least_fault_a)}, "
        f"less than {multiple:g} times its {amperes_text(device.protects_a)} device",
        run.span,
        design.edition.clause("practice"),
        (f"state: {run.least_fault_state}; line to ground or line to line, without motors, conductors at 75 C",),
        "take larger conductors or a smaller device; or check its trip curve and accept it",
        Severity.WARNING,
    )


RULE = Rule(
    id="least-fault",
    severity=Severity.WARNING,
    title="a fault at the far end is so small that its device may not see it in time",
    why="Behind a weak source or a long run a fault looks like an overload: it burns until the device warms up.",
    clause="practice",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
    lighting    "Yard"          4 kVA, 277 V 1-phase, 4_000 ft
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
    main        breaker 400 A
    place       indoor "Electrical room"
    lighting    "Yard"          4 kVA, 277 V 1-phase, 400 ft
}
""",
    check=check,
    applies=reach.conductors,
)
