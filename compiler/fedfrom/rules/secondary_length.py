"""Transformer secondary conductors are too long or too small."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.formulas.taps import rule_for_length
from fedfrom.passes.feeder_conductors import tap_rules
from fedfrom.passes.sizing_review import FeederReview
from fedfrom.results.notation import amperes_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked, review_of

OUTSIDE_WORDS = ("underground", "outdoor", "roof")


def check(design: Design) -> Iterator[Finding]:
    for each in review_of(design).feeders:
        if each.feeder.kind == "secondary" and each.feeder.device is None:
            yield from _check(design, each)


def _check(design: Design, each: FeederReview) -> Iterator[Finding]:
    feeder, edition = each.feeder, design.edition
    if feeder.length_ft is None:
        clause = edition.clause("240.21(C)")
        yield not_checked("secondary-length", feeder.id, "the length of the secondary", feeder.span, clause)
        return
    if _protected_by_primary(each) or _outside(each):
        return
    rule = rule_for_length(tap_rules(edition), "secondary", feeder.length_ft)
    if rule is None:
        length = each.plan.feed.length_ft
        yield breach(
            "secondary-length",
            feeder.id,
            f"{feeder.id}: {feeder.length_ft:g} ft of secondary conductors without a device, limit 25 ft",
            (length.span if length else None) or feeder.span,
            edition.clause("240.21(C)(6)"),
            advice="set the transformer nearer, or put a device at it: `main breaker` on the transformer",
        )
    elif each.wiring is not None and each.wiring.option.usable_a < each.protection.least_a - 0.001:
        carried, least = amperes_text(each.wiring.option.usable_a), amperes_text(each.protection.least_a)
        yield breach(
            "secondary-length",
            feeder.id,
            f"{feeder.id}: conductors carry {carried}, {each.protection.reason} asks for {least}",
            each.wiring.span,
            edition.clause(each.protection.clause),
            ("the next standard size up is not allowed here",),
            "take larger conductors or a smaller device at their end",
        )


def _protected_by_primary(each: FeederReview) -> bool:
    """Two-wire single-phase and three-wire delta-delta secondaries may count on the primary device (240.21(C)(1))."""
    primary, secondary = each.plan.source.line_system, each.plan.source.system
    if primary is None or secondary is None:
        return False
    two_wire = secondary.wires == 2
    delta = secondary.phases == 3 and secondary.wires == 3 and primary.wires == 3
    return two_wire or delta


def _outside(each: FeederReview) -> bool:
    """Every stretch is outside the building: no length limit but for the load end (240.21(C)(4))."""
    runs = each.plan.feed.runs
    return bool(runs) and all(any(word in run.environment.lower() for word in OUTSIDE_WORDS) for run in runs)


RULE = Rule(
    id="secondary-length",
    severity=Severity.ERROR,
    title="transformer secondary conductors are too long or too small",
    why=(
        "Up to the first device on the load side nothing protects them: the primary device does not see their "
        "overload. Only their length, size and end keep a fault in them harmless."
    ),
    clause="240.21(C)",
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
transformer T1 {
    fed from    MDP, 30 ft
    rating      45 kVA
    secondary   208Y/120 V
    electrode   building steel, 20 ft
}
panelboard LP "Lighting" {
    fed from    T1, 40 ft
    main        breaker 150 A
    place       indoor "Room 2"
    receptacles "Offices"       8 outlets, 60 ft
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
transformer T1 {
    fed from    MDP, 30 ft
    rating      45 kVA
    secondary   208Y/120 V
    electrode   building steel, 20 ft
}
panelboard LP "Lighting" {
    fed from    T1, 15 ft
    main        breaker 150 A
    place       indoor "Room 2"
    receptacles "Offices"       8 outlets, 60 ft
}
""",
    check=check,
    applies=reach.transformers,
)
