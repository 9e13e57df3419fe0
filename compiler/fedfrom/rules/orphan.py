"""A source, transformer or transfer switch feeds nothing."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    for tag, node in design.network.nodes.items():
        item = node.item
        if node.role not in ("source", "transformer", "transfer") or item.status.is_gone:
            continue
        joins = any(feed.verb == "connects to" for feed in item.feeds)
        if item.loads or joins or item.unreadable or design.network.outgoing[tag]:
            continue
        yield breach(
            "orphan",
            tag,
            f"{item.kind} {tag} feeds nothing",
            item.tag_span,
            design.edition.clause("practice"),
            advice=f"feed gear from {tag}, or take it out",
            severity=Severity.WARNING,
        )


RULE = Rule(
    id="orphan",
    severity=Severity.WARNING,
    title="a source, transformer or transfer switch feeds nothing",
    why=(
        "A source that feeds nothing is a leftover of an edit, or a tag that was mistyped where it should be fed from."
    ),
    clause="practice",
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
}
transformer T1 "Spare" {
    fed from    MDP, 20 ft
    rating      15 kVA
    secondary   208Y/120 V
    electrode   building steel, 20 ft
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
}
""",
    check=check,
)
