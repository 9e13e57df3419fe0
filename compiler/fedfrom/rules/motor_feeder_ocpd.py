"""The device of a motor feeder is above its limit."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.sizing_limits import ampacity_shortfall
from fedfrom.results.notation import amperes_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of


def check(design: Design) -> Iterator[Finding]:
    for each in review_of(design).feeders:
        limit, wiring, rating = each.motor_limit_a, each.wiring, each.protection.device_a
        if limit is None or wiring is None or rating is None:
            continue
        short = ampacity_shortfall(design.edition, wiring)
        if short is None:
            continue
        request, option = wiring.request, wiring.option
        carries_load = (
            option.terminal_a >= request.terminal_a - 0.001 and option.corrected_a >= request.carried_a - 0.001
        )
        if carries_load and rating <= limit + 0.001:
            continue
        yield breach(
            "motor-feeder-ocpd",
            each.feeder.id,
            f"{each.feeder.id}: {amperes_text(rating)}, conductors carry {amperes_text(wiring.option.usable_a)}",
            (each.feeder.device.span if each.feeder.device else None) or wiring.span,
            design.edition.clause("430.62(A)"),
            (f"largest motor device and the other loads: {amperes_text(limit)}", short.message),
            "take a smaller device or larger conductors",
        )


RULE = Rule(
    id="motor-feeder-ocpd",
    severity=Severity.ERROR,
    title="the device of a motor feeder is above its limit",
    why="With the largest motor starting and the others running, the feeder device must still protect the conductors.",
    clause="430.62",
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
}
motor control center MCC "Motors" {
    fed from    MDP, 60 ft, breaker 200 A, phase 1/0 AWG
    place       indoor "Room 2"
    motor       "Pump 1"        25 hp, 40 ft
    motor       "Pump 2"        25 hp, 40 ft
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
}
motor control center MCC "Motors" {
    fed from    MDP, 60 ft, breaker 110 A, phase 3 AWG
    place       indoor "Room 2"
    motor       "Pump 1"        25 hp, 40 ft
    motor       "Pump 2"        25 hp, 40 ft
}
""",
    check=check,
    applies=reach.motors,
)
