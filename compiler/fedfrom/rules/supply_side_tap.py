"""A source ahead of the main has no device of its own, or is larger than the service."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.graph.network import Edge
from fedfrom.rules import reach
from fedfrom.rules.busbar_120 import joining, output_a
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of


def check(design: Design) -> Iterator[Finding]:
    outputs = {each.feeder.id: output_a(design, each.plan) for each in review_of(design).feeders}
    for tag, gear in design.results.gear.items():
        joined = [] if gear.status.is_gone else joining(design, tag, ahead=True)
        for edge in joined:
            written = edge.feed.device if edge.feed is not None else None
            if written is None:
                text = f"{edge.target} joins {tag} ahead of its main without a disconnect"
                yield _finding(design, edge, text, "705.11")
        total = sum(outputs.get(edge.id) or 0.0 for edge in joined)
        if joined and gear.main is not None and total > gear.main.protects_a:
            text = f"{total:.0f} A of sources ahead of {tag}.main, more than its {gear.main.protects_a:g} A"
            yield _finding(design, joined[0], text, "705.11(A)")


def _finding(design: Design, edge: Edge, message: str, key: str) -> Finding:
    span = edge.feed.span if edge.feed is not None else None
    advice = "give it a fused switch or breaker that is service rated, and keep the sum below the service"
    return breach("supply-side-tap", edge.target, message, span, design.edition.clause(key), advice=advice)


RULE = Rule(
    id="supply-side-tap",
    severity=Severity.ERROR,
    title="a source ahead of the main has no device of its own, or is larger than the service",
    why=(
        "Ahead of the main only the utility limits a fault. The new source needs its own service disconnect "
        "there, and the service conductors must carry what it gives."
    ),
    clause="705.11",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
pv PV1 "Roof" {
    connects to MDP ahead of main, 60 ft
    rating      15 kW
    output      45 A
    place       outdoor "Roof"
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
    main        breaker 225 A
    place       indoor "Electrical room"
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
pv PV1 "Roof" {
    connects to MDP ahead of main, 60 ft, breaker 60 A
    rating      15 kW
    output      45 A
    place       outdoor "Roof"
}
""",
    check=check,
    life_safety=True,
    applies=reach.kinds("pv", "battery"),
)
