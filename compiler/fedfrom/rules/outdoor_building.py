"""Gear in another building has no disconnect or no electrode of its own."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Item, Status
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    for feeder in design.results.feeders.values():
        source, target = design.model.items.get(feeder.source), design.model.items[feeder.target]
        gear = design.results.gear.get(feeder.target)
        here = _building(target)
        if source is None or gear is None or not here or here == _building(source) or gear.status is not Status.NEW:
            continue
        if source.kind == "utility":
            continue
        devices = [row for row in design.results.circuits.get(target.tag, ()) if row.device is not None]
        if gear.main is None and (gear.gear_class != "disconnect" and len(devices) != 1):
            message = f"{target.tag} in {here} has no main, so the building has no disconnect of its own"
            yield _finding(design, target, message, "225.31", "write a `main`", gear.main_lugs)
        if not target.electrodes:
            message = f"{target.tag} in {here} has no grounding electrode"
            yield _finding(design, target, message, "250.32", "write its `electrode` lines", False)


def _building(item: Item) -> str:
    fact = item.facts.first("building")
    return str(fact.values.get("name", "")) if fact is not None else ""


def _finding(design: Design, item: Item, message: str, key: str, advice: str, at_main: bool) -> Finding:
    span = item.main.span if at_main and item.main is not None else item.tag_span
    return breach("outdoor-building", item.tag, message, span, design.edition.clause(key), advice=advice)


RULE = Rule(
    id="outdoor-building",
    severity=Severity.ERROR,
    title="gear in another building has no disconnect or no electrode of its own",
    why=(
        "A building is cut off at the building. Its own electrode holds its ground where it stands, and "
        "lightning does not wait for the long wire back."
    ),
    clause="225.31",
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
panelboard GP "Gatehouse" {
    fed from    MDP, 180 ft, breaker 60 A
    main        lugs
    building    "Gatehouse"
    electrode   rod
    electrode   rod
    place       indoor "Gatehouse"
    equipment   "Gate drive"    20 A, 208 V 3-phase, 30 ft
    equipment   "Barrier"       10 A, 120 V, 30 ft
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
panelboard GP "Gatehouse" {
    fed from    MDP, 180 ft, breaker 60 A
    main        breaker 60 A
    building    "Gatehouse"
    electrode   rod
    electrode   rod
    place       indoor "Gatehouse"
    equipment   "Gate drive"    20 A, 208 V 3-phase, 30 ft
    equipment   "Barrier"       10 A, 120 V, 30 ft
}
""",
    check=check,
    applies=reach.has_fact("building"),
    life_safety=True,
)
