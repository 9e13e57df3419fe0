"""A load to the neutral stands on the high leg."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    """Phase B is the high leg of a 240/120 V delta; open positions avoid it by themselves."""
    for tag, rows in design.results.circuits.items():
        node = design.network.nodes.get(tag)
        if node is None or node.system is None or node.system.kind != "high-leg delta":
            continue
        for row in rows:
            to_neutral = row.poles == 1 or row.multiwire
            if row.kind != "load" or not to_neutral or "B" not in row.phases:
                continue
            yield breach(
                "high-leg",
                row.key,
                f"{row.key} connects {row.name} to the high leg",
                row.span,
                design.edition.clause("408.3(E)"),
                advice="take a position on phase A or C, or leave it open",
            )


RULE = Rule(
    id="high-leg",
    severity=Severity.ERROR,
    title="a load to the neutral stands on the high leg",
    why="The high leg has 208 V to the neutral: it burns what is made for 120 V.",
    clause="408.3(E)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     240/120 V high-leg
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    3           equipment   "Gate"          1 kVA, 120 V, 30 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     240/120 V high-leg
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    5           equipment   "Gate"          1 kVA, 120 V, 30 ft
}
""",
    check=check,
    applies=reach.high_leg,
)
