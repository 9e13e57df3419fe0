"""The load of a piece of gear is greater than its main or its bus."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.results.governing import governing_load
from fedfrom.results.notation import amperes_text
from fedfrom.results.types import DeviceResult, GearResult
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    for tag, gear in design.results.gear.items():
        load = governing_load(design.results, tag)
        if load is None or gear.status.is_gone:
            continue
        for part, rating in _limits(gear):
            device = gear.main if gear.main is not None else _feeder_device(design, tag)
            needed = load.design_a
            if device is not None and "100 % rated" in device.options:
                needed = max(load.demand_a, *load.phase_demand_a)
            if rating is None or needed <= rating * 1.0005:
                continue
            place = gear.main.span if part == "main" and gear.main is not None else None
            bus = design.model.items[tag].facts.first("bus")
            yield breach(
                "panel-overload",
                tag,
                f"{tag} needs {amperes_text(needed)}, and its {part} is {amperes_text(rating)}",
                place or (bus.span if bus is not None else gear.span),
                design.edition.clause("408.30"),
                (f"in state {load.state}", *(() if load.complete else ("some loads are not known: it may be more",))),
                f"take a larger {part}, or move load elsewhere",
            )
            break


def _feeder_device(design: Design, tag: str) -> DeviceResult | None:
    """What protects the bus of gear without a main: the device of the only feeder to it."""
    feeders = [feeder for feeder in design.results.feeders.values() if feeder.target == tag]
    return feeders[0].device if len(feeders) == 1 else None


def _limits(gear: GearResult) -> tuple[tuple[str, float | None], ...]:
    return (("main", gear.main.protects_a if gear.main is not None else None), ("bus", gear.bus_a))


RULE = Rule(
    id="panel-overload",
    severity=Severity.ERROR,
    title="the load of a piece of gear is greater than its main or its bus",
    why="The main opens, or the bus runs hot, under the load that is calculated for it.",
    clause="408.30",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 100 A
    place       indoor "Electrical room"
    equipment   "Press"         120 A, 208 V 3-phase, 30 ft
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
    equipment   "Press"         120 A, 208 V 3-phase, 30 ft
}
""",
    check=check,
    applies=reach.gear,
)
