"""The device of a motor circuit is above its limit."""

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
        row, limit = circuit.row, circuit.need.device_limit_a
        rating = protecting_rating(row.device)
        if row.motor_hp is None and row.table_a is None:
            continue
        if limit is None or rating is None or row.device is None or rating <= limit + 0.001:
            continue
        motor = f"{row.motor_hp:g} hp" if row.motor_hp is not None else f"a motor of {amperes_text(row.table_a)}"
        yield breach(
            "motor-branch-ocpd",
            row.key,
            f"{row.key}: {amperes_text(rating)}, limit {amperes_text(limit)} for {motor}",
            row.device.span or row.span,
            design.edition.clause("430.52(C)(1)"),
            tuple(f"{step.formula}: {step.numbers}" for step in circuit.need.steps[1:2]),
            f"take {amperes_text(limit)} or less",
        )


RULE = Rule(
    id="motor-branch-ocpd",
    severity=Severity.ERROR,
    title="the device of a motor circuit is above its limit",
    why="The device must let the motor start and still open on a short circuit; the table gives the greatest rating.",
    clause="430.52",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
    motor       "Pump"          10 hp, 40 ft, breaker 60 A
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
    motor       "Pump"          10 hp, 40 ft, breaker 35 A
}
""",
    check=check,
    applies=reach.motors,
)
