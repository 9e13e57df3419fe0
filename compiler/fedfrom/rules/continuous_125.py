"""A device or conductor carries the load, but not 125 % of its continuous part."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.sizing_devices import protecting_rating
from fedfrom.passes.sizing_limits import ampacity_shortfall, has_motor_rule
from fedfrom.results.notation import amperes_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of


def check(design: Design) -> Iterator[Finding]:
    laid_open = review_of(design)
    for wiring in laid_open.wirings:
        short = None if has_motor_rule(wiring) else ampacity_shortfall(design.edition, wiring)
        if short is not None and short.cause == "continuous":
            yield breach(
                "continuous-125",
                wiring.subject,
                f"{wiring.subject}: {short.message}",
                wiring.span,
                design.edition.clause("215.2(A)"),
                short.notes,
                "take a larger conductor",
            )
    for each in laid_open.feeders:
        rating = protecting_rating(each.feeder.device)
        design_a, carried = each.plan.design_a, each.plan.carried_a
        if rating is None or design_a is None or carried is None or each.feeder.device is None:
            continue
        if "100 % rated" in each.feeder.device.options or not carried <= rating + 0.001 < design_a:
            continue
        yield breach(
            "continuous-125",
            each.feeder.id,
            f"{each.feeder.id}: {amperes_text(rating)} for a load that needs {amperes_text(design_a)}",
            each.feeder.device.span or each.feeder.span,
            design.edition.clause("215.3"),
            (f"load {amperes_text(carried)}, with 125 % of its continuous part {amperes_text(design_a)}",),
            "take a larger device, or one listed for 100 % of its rating (`100 % rated`)",
        )


RULE = Rule(
    id="continuous-125",
    severity=Severity.ERROR,
    title="a device or conductor carries the load, but not 125 % of its continuous part",
    why="Devices are tested in open air; in an enclosure, load of three hours or more heats them further.",
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
    fed from    MDP, 60 ft, breaker 100 A
    main        lugs
    bus         225 A
    place       indoor "Room 2"
    equipment   "Process"       90 A, 208 V 3-phase, 20 ft, continuous
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
    fed from    MDP, 60 ft, breaker 125 A
    main        lugs
    bus         225 A
    place       indoor "Room 2"
    equipment   "Process"       90 A, 208 V 3-phase, 20 ft, continuous
}
""",
    check=check,
    applies=reach.conductors,
)
