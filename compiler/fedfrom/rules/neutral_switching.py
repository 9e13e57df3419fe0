"""The poles of a transfer switch do not agree with where the neutral is bonded."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.graph.walk import incoming_edges
from fedfrom.model.fact_reading import words
from fedfrom.model.items import Item
from fedfrom.quantity import VoltageSystem
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked


def check(design: Design) -> Iterator[Finding]:
    for tag, switch in design.results.transfers.items():
        if design.model.items[tag].kind != "transfer switch" or switch.status.is_gone:
            continue
        if switch.system is None or not _has_neutral(switch.system):
            continue
        for source in _generators(design, tag):
            fact = source.facts.first("bond")
            clause = design.edition.clause("250.30")
            if fact is None:
                yield not_checked("neutral-switching", tag, f"the `bond` of {source.tag}", source.tag_span, clause)
                continue
            bonded = "generator" in words(fact)
            if bonded == (switch.poles == 4):
                continue
            problem = (
                f"the neutral is bonded at {source.tag} and at the service, and {tag} does not switch it"
                if bonded
                else f"{tag} switches the neutral, and {source.tag} is not bonded: its system then has no bond"
            )
            poles, bond = (4, "none") if bonded else (3, "generator")
            advice = f"write `poles {poles}` on {tag}, or `bond {bond}` on {source.tag}"
            notes = (f"{tag} has {switch.poles} poles",)
            yield breach("neutral-switching", tag, problem, switch.span, clause, notes, advice)


def _has_neutral(system: VoltageSystem) -> bool:
    return not system.is_dc and system.has_neutral and system.grounding == "solid"


def _generators(design: Design, tag: str) -> Iterator[Item]:
    """The generators from which the emergency side of a switch is fed, through gear but not through a transformer."""
    feeds = ((edge, edge.feed) for edge in incoming_edges(design.network, tag))
    stack = [edge.source for edge, feed in feeds if feed is not None and feed.verb == "emergency from"]
    seen: set[str] = set()
    while stack:
        here = stack.pop()
        node = design.network.nodes.get(here)
        if here in seen or node is None or node.role in ("transformer", "transfer"):
            continue
        seen.add(here)
        if node.item.kind == "generator":
            yield node.item
        stack.extend(edge.source for edge in incoming_edges(design.network, here))


RULE = Rule(
    id="neutral-switching",
    severity=Severity.ERROR,
    title="the poles of a transfer switch do not agree with where the neutral is bonded",
    why=(
        "One system has one bond between neutral and ground. Bonded twice, part of the neutral current runs "
        "through steel and pipes and fools ground-fault protection; not bonded at all, a fault has no way "
        "back."
    ),
    clause="250.30",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    electrode   water pipe, 30 ft
    electrode   building steel, 20 ft
}
generator G1 "Standby" {
    rating          200 kW
    voltage         480Y/277 V
    subtransient    12 %
    main            breaker, LSI
    bond            generator
    electrode       building steel, 20 ft
    place           outdoor "Yard"
}
transfer switch ATS1 "Standby" {
    normal from     MSB, 30 ft
    emergency from  G1, 60 ft
    system          optional standby
    poles           3
    place           indoor "Electrical room"
}
panelboard LP1 "Standby loads" {
    fed from        ATS1, 15 ft
    place           indoor "Electrical room"
    surge device    100 kA
    equipment   "Furnace"       60 A, 480 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    electrode   water pipe, 30 ft
    electrode   building steel, 20 ft
}
generator G1 "Standby" {
    rating          200 kW
    voltage         480Y/277 V
    subtransient    12 %
    main            breaker, LSI
    bond            generator
    electrode       building steel, 20 ft
    place           outdoor "Yard"
}
transfer switch ATS1 "Standby" {
    normal from     MSB, 30 ft
    emergency from  G1, 60 ft
    system          optional standby
    poles           4
    place           indoor "Electrical room"
}
panelboard LP1 "Standby loads" {
    fed from        ATS1, 15 ft
    place           indoor "Electrical room"
    surge device    100 kA
    equipment   "Furnace"       60 A, 480 V 3-phase, 60 ft
}
""",
    check=check,
    life_safety=True,
    applies=reach.kinds("transfer switch"),
)
