"""an ungrounded system has no ground detector."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.graph.walk import incoming_edges
from fedfrom.model.items import Status
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    for tag, node in design.network.nodes.items():
        system = node.system
        if system is None or system.grounding != "ungrounded" or node.item.status is not Status.NEW:
            continue
        if node.role != "bus" or _monitored(design, tag):
            continue
        if any(
            design.network.nodes[edge.source].system == system and design.network.nodes[edge.source].role == "bus"
            for edge in incoming_edges(design.network, tag)
        ):
            continue  # once for a system: at its first bus
        yield breach(
            "ungrounded-detect",
            tag,
            f"{tag}: nothing watches the ungrounded {system.literal} system for ground faults",
            node.item.tag_span,
            design.edition.clause("250.21"),
            advice="add `monitor ground detection`",
        )


def _monitored(design: Design, tag: str) -> bool:
    return design.model.items[tag].facts.first("monitor") is not None


RULE = Rule(
    id="ungrounded-detect",
    severity=Severity.ERROR,
    title="an ungrounded system has no ground detector",
    why="The first ground fault on an ungrounded system is silent; a second one is a short circuit.",
    clause="250.21",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480 V ungrounded
    fault       12 kA at service point, X/R 4
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
    equipment   "Kiln"          30 A, 480 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480 V ungrounded
    fault       12 kA at service point, X/R 4
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
    monitor     ground detection
    equipment   "Kiln"          30 A, 480 V 3-phase, 60 ft
}
""",
    check=check,
    life_safety=True,
    applies=reach.ungrounded,
)
