"""A fire pump gets too little voltage at its start or when it runs."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.results.types import CircuitResult
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked

START_PCT, RUNNING_PCT, RUNNING_SHARE = 15.0, 5.0, 1.15  # NEC 695.7: at start; at 115 % of full-load current


def check(design: Design) -> Iterator[Finding]:
    clause = design.edition.clause("695.7")
    for tag, item in design.model.items.items():
        if item.kind != "fire pump controller" or item.status.is_gone:
            continue
        for row in design.results.circuits.get(tag, ()):
            if row.motor_hp is None:
                continue
            if row.start_dip_pct is None or row.cumulative_drop_pct is None:
                needs = f"the fault data of the source, the code letter and the lengths up to {row.tag or row.key}"
                yield not_checked("drop-fire-pump", row.key, needs, row.span, clause)
                continue
            running = row.cumulative_drop_pct * RUNNING_SHARE
            yield from _over(row, row.start_dip_pct, START_PCT, "at its start, at the controller", clause)
            yield from _over(row, running, RUNNING_PCT, "at 115 % of its current, at the motor", clause)


def _over(row: CircuitResult, percent: float, limit: float, when: str, clause: str) -> Iterator[Finding]:
    if percent > limit:
        yield breach(
            "drop-fire-pump",
            row.key,
            f"{row.key}: {percent:.1f} % less voltage {when}, over {limit:g} %",
            row.span,
            clause,
            advice="take larger conductors, a shorter way, or a start with less current",
        )


RULE = Rule(
    id="drop-fire-pump",
    severity=Severity.ERROR,
    title="a fire pump gets too little voltage at its start or when it runs",
    why=("Contactors drop out when the voltage sags. A fire pump that cannot pull itself in has no second chance."),
    clause="695.7",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       indoor "Electrical room"
}
fire pump controller FPC "Fire pump" {
    fed from        MSB ahead of main, 2_800 ft, breaker 400 A, supervised
    surge device    100 kA
    place           indoor "Pump room"
    motor       FP-1 "Fire pump"        40 hp, 480 V 3-phase, code G, 12 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       indoor "Electrical room"
}
fire pump controller FPC "Fire pump" {
    fed from        MSB ahead of main, 48 ft, breaker 400 A, supervised
    surge device    100 kA
    place           indoor "Pump room"
    motor       FP-1 "Fire pump"        40 hp, 480 V 3-phase, code G, 12 ft
}
""",
    check=check,
    life_safety=True,
    applies=reach.kinds("fire pump controller"),
)
