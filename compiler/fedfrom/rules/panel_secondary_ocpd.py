"""A panelboard behind a transformer has no device on the secondary side."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of


def check(design: Design) -> Iterator[Finding]:
    laid_open = review_of(design)
    for each in laid_open.feeders:
        feeder, secondary = each.feeder, each.plan.source.system
        if feeder.kind != "secondary" or feeder.device is not None or each.plan.target.role != "bus":
            continue
        if secondary is None or secondary.wires == 2 or (secondary.phases == 3 and secondary.wires == 3):
            continue
        item = each.plan.target.item
        if laid_open.sizer.main(feeder.target).device is not None or item.main is None:
            continue
        yield breach(
            "panel-secondary-ocpd",
            feeder.target,
            f"{feeder.target} is fed from transformer {feeder.source} and has no main",
            item.main.span,
            design.edition.clause("408.36(B)"),
            advice="write `main breaker`, or a device at the transformer",
        )


RULE = Rule(
    id="panel-secondary-ocpd",
    severity=Severity.ERROR,
    title="a panelboard behind a transformer has no device on the secondary side",
    why="The primary device does not protect a panelboard on the other side (but for two-wire and delta-delta).",
    clause="408.36(B)",
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
    fed from    T1, 10 ft
    main        lugs
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
    fed from    T1, 10 ft
    main        breaker 150 A
    place       indoor "Room 2"
    receptacles "Offices"       8 outlets, 60 ft
}
""",
    check=check,
    life_safety=True,
    applies=reach.transformers,
)
