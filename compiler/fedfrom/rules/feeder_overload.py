"""The load of a feeder is greater than its device."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.sizing_devices import protecting_rating
from fedfrom.results.notation import amperes_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of


def check(design: Design) -> Iterator[Finding]:
    for each in review_of(design).feeders:
        rating, carried = protecting_rating(each.feeder.device), each.plan.carried_a
        if rating is None or carried is None or each.feeder.device is None or carried <= rating + 0.001:
            continue
        if each.feeder.kind == "generator" and each.plan.capacity_a is not None:
            continue
        state = f"worst in {each.plan.state}" if each.plan.state else ""
        yield breach(
            "feeder-overload",
            each.feeder.id,
            f"{each.feeder.id}: load {amperes_text(carried)} on a device of {amperes_text(rating)}",
            each.feeder.device.span or each.feeder.span,
            design.edition.clause("215.3"),
            (state,) if state else (),
            "take a larger device, or move load to another feeder",
        )


RULE = Rule(
    id="feeder-overload",
    severity=Severity.ERROR,
    title="the load of a feeder is greater than its device",
    why="The device opens under the load that is calculated for it.",
    clause="215.3",
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
}
panelboard LP "Lighting" {
    fed from    MDP, 60 ft, breaker 70 A
    main        lugs
    bus         225 A
    place       indoor "Room 2"
    equipment   "Process"       90 A, 208 V 3-phase, 20 ft
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
}
panelboard LP "Lighting" {
    fed from    MDP, 60 ft, breaker 100 A
    main        lugs
    bus         225 A
    place       indoor "Room 2"
    equipment   "Process"       90 A, 208 V 3-phase, 20 ft
}
""",
    check=check,
    applies=reach.feeders,
)
