"""A tap is too long, too small or ends in no device."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.feeder_conductors import feeder_tap_rule
from fedfrom.passes.sizing_devices import protecting_rating
from fedfrom.passes.sizing_review import FeederReview, Review
from fedfrom.results.notation import amperes_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked, review_of

ONE_DEVICE = frozenset({"feeder_tap_25_ft", "outside_tap"})


def check(design: Design) -> Iterator[Finding]:
    laid_open = review_of(design)
    for each in laid_open.feeders:
        if each.feeder.kind == "tap" and each.feeder.device is None:
            yield from _check(design, laid_open, each)


def _check(design: Design, laid_open: Review, each: FeederReview) -> Iterator[Finding]:
    feeder, edition = each.feeder, design.edition
    if feeder.length_ft is None:
        yield not_checked("tap-rule", feeder.id, "the length of the tap", feeder.span, edition.clause("240.21(B)"))
        return
    ahead = laid_open.sizer.ahead_of(feeder.source)
    if ahead is None or each.wiring is None:
        needs = f"the device ahead of {feeder.source}" if ahead is None else "the conductors of the tap"
        yield not_checked("tap-rule", feeder.id, needs, feeder.span, edition.clause("240.21(B)"))
        return
    usable = each.wiring.option.usable_a
    if usable >= ahead - 0.001:
        return
    rule = feeder_tap_rule(edition, each.plan.feed)
    clause = edition.clause(rule.clause if rule else "240.21(B)")
    if rule is None:
        text = f"{feeder.length_ft:g} ft, and its conductors carry {amperes_text(usable)} of {amperes_text(ahead)}"
        advice = "shorten it to 25 ft, or run it outside all the way"
        yield breach("tap-rule", feeder.id, f"{feeder.id}: {text}", feeder.span, clause, advice=advice)
        return
    if usable < each.protection.least_a - 0.001:
        text = f"{amperes_text(usable)}, {each.protection.reason} asks for {amperes_text(each.protection.least_a)}"
        yield breach(
            "tap-rule", feeder.id, f"{feeder.id}: {text}", each.wiring.span, clause, advice="take larger conductors"
        )
    elif protecting_rating(laid_open.sizer.main(feeder.target).device) is None and rule.key in ONE_DEVICE:
        text = "the tap does not end in one device"
        yield breach("tap-rule", feeder.id, f"{feeder.id}: {text}", feeder.span, clause, advice="write a main breaker")


RULE = Rule(
    id="tap-rule",
    severity=Severity.ERROR,
    title="a tap is too long, too small or ends in no device",
    why="A tap has no device of its own; only its length, size and end keep a fault in it harmless.",
    clause="240.21(B)",
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
wireway WW "Trough" { fed from MDP, 20 ft, breaker 400 A }
panelboard LP "Lighting" {
    fed from    WW tap, 20 ft, phase 8 AWG
    main        breaker 40 A
    place       indoor "Room 2"
    receptacles "Offices"       8 outlets, 60 ft
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
wireway WW "Trough" { fed from MDP, 20 ft, breaker 400 A }
panelboard LP "Lighting" {
    fed from    WW tap, 20 ft
    main        breaker 40 A
    place       indoor "Room 2"
    receptacles "Offices"       8 outlets, 60 ft
}
""",
    check=check,
    applies=reach.taps,
)
