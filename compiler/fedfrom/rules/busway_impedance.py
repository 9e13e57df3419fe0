"""The drop along a busway is not known, because its impedance is not stated."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.busway import BUSWAY, impedance_per_ft
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import not_checked


def check(design: Design) -> Iterator[Finding]:
    for tag, item in design.model.items.items():
        if item.kind != BUSWAY or impedance_per_ft(item) is not None or not _used_along(design, tag):
            continue
        needs = f"the `impedance` of {tag} from its maker: without it drop and smallest fault along it are not known"
        yield not_checked("busway-impedance", tag, needs, item.tag_span, design.edition.clause("practice"))


def _used_along(design: Design, tag: str) -> bool:
    """Whether something is plugged in away from the feed end."""
    if any(load.at_ft is not None and load.at_ft.value > 0 for load in design.model.items[tag].loads):
        return True
    edges = (design.network.edges[edge] for edge in design.network.outgoing.get(tag, ()))
    feeds = (edge.feed for edge in edges if edge.feed is not None)
    return any(feed.at_ft is not None and feed.at_ft.value > 0 for feed in feeds)


RULE = Rule(
    id="busway-impedance",
    severity=Severity.NOT_CHECKED,
    title="the drop along a busway is not known, because its impedance is not stated",
    why="Makers differ too much for a typical value; faults are taken as at its feed end, which is the safe side.",
    clause="practice",
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
}
busway BW1 "Machine hall" {
    fed from    MSB, 40 ft, breaker 400 A
    rating      400 A
    length      180 ft
    place       indoor "Machine hall"
    at 60 ft    motor       "Lathe"         10 hp, 20 ft
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
}
busway BW1 "Machine hall" {
    fed from    MSB, 40 ft, breaker 400 A
    rating      400 A
    length      180 ft
    impedance   0.0032 ohm 0.0021 ohm per 100 ft
    place       indoor "Machine hall"
    at 60 ft    motor       "Lathe"         10 hp, 20 ft
}
""",
    check=check,
    applies=reach.kinds("busway"),
)
