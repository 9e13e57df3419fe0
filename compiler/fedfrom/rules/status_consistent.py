"""Gear that stays or is new hangs on gear that is removed or not there yet."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.graph.walk import outgoing_edges
from fedfrom.model.items import Status
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import not_checked


def check(design: Design) -> Iterator[Finding]:
    """Existing gear that gets new load or a new feeder needs its ratings written: they are facts, not choices.

    What hangs on gear that goes or is not there yet is told by the network.
    """
    for tag, node in design.network.nodes.items():
        item = node.item
        if item.status is not Status.EXISTING or node.role != "bus" or item.facts.first("bus") is not None:
            continue
        written = item.main is not None and item.main.device is not None and item.main.device.rating_a is not None
        new_loads = any(load.status is Status.NEW for load in item.loads)
        new_feeds = any(
            edge.feed is not None and design.network.nodes[edge.target].item.status is Status.NEW
            for edge in outgoing_edges(design.network, tag)
        )
        if not written and (new_loads or new_feeds):
            yield not_checked("status-consistent", tag, f"the `bus` of {tag}, which gets new load", item.tag_span, "")


RULE = Rule(
    id="status-consistent",
    severity=Severity.ERROR,
    title="gear that stays or is new hangs on gear that is removed or not there yet",
    why="The day the old gear goes, everything that was left on it is dark.",
    clause="",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
existing utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
demolish panelboard OLD "Old panel" {
    fed from    UT, 20 ft, breaker 100 A
    place       indoor "Electrical room"
}
panelboard LP1 "Offices" {
    fed from    OLD, 30 ft
    place       indoor "Room 12"
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
panelboard LP1 "Offices" {
    fed from    MDP, 30 ft
    place       indoor "Room 12"
}
""",
    check=check,
)
