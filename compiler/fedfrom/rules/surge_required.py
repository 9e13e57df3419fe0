"""Gear that must have surge protection has none."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.graph.walk import below, outgoing_edges
from fedfrom.model.items import Item, Status
from fedfrom.results.types import GearResult
from fedfrom.rules import reach
from fedfrom.rules.ats_class import classes_of_gear
from fedfrom.rules.placed_loads import occupancy_of
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

BOARDS = ("panelboard", "switchboard")
SLEEPING = {"dormitory": "dormitory units", "hotel_motel": "guest rooms"}  # 230.67(A) since 2023 (from memory)
FOR_ELEVATORS = ("emergency", "legally required", "critical operations")  # 620.51(E)


def check(design: Design) -> Iterator[Finding]:
    classes = classes_of_gear(design)
    for tag, gear in design.results.gear.items():
        item = design.model.items[tag]
        if gear.status is not Status.NEW or gear.by or _has_surge_device(item):
            continue
        for reason, key in _reasons(design, item, gear, classes.get(tag, "")):
            yield breach(
                "surge-required",
                tag,
                f"{tag} {reason} and has no surge device",
                gear.span,
                design.edition.clause(key),
                advice="write `surge device 100 kA`",
            )
            break


def _reasons(design: Design, item: Item, gear: GearResult, system_class: str) -> Iterator[tuple[str, str]]:
    """Why gear must have a surge device, with the clause; none where it need not."""
    if gear.gear_class in BOARDS and system_class == "emergency":
        yield "is part of an emergency system", "700.8"
    if item.kind == "fire pump controller":
        yield "is a fire pump controller", "695.15"
    elevator = any(load.kind == "elevator" for load in item.loads)
    if elevator and system_class in FOR_ELEVATORS and design.edition.year >= 2020:
        yield f"feeds an elevator on the {system_class} system", "620.51"
    if item.facts.first("dwelling") is not None and not gear.service_equipment and design.edition.year >= 2023:
        yield "serves a dwelling unit", "215.18"
    if gear.service_equipment and design.edition.year >= 2020 and _unprotected_dwelling(design, item.tag):
        yield "is the service of dwelling units", "230.67"
    sleeping = SLEEPING.get(occupancy_of(design), "")
    if gear.service_equipment and design.edition.year >= 2023 and sleeping and not _protected_below(design, item.tag):
        yield f"is the service of {sleeping}", "230.67"


def _has_surge_device(item: Item) -> bool:
    return item.facts.first("surge device") is not None


def _protected_below(design: Design, service: str) -> bool:
    """Whether gear at the next level has the surge device (230.67 exception): all that the service feeds directly."""
    nearest = [edge.target for edge in outgoing_edges(design.network, service)]
    boards = [design.model.items[tag] for tag in nearest if tag in design.results.gear]
    return bool(boards) and all(_has_surge_device(board) for board in boards)


def _unprotected_dwelling(design: Design, service: str) -> bool:
    """Whether a dwelling unit on this service has no surge device: the next level may have it (230.67 exception)."""
    units = (design.model.items[tag] for tag in below(design.network, design.plan.normal, service))
    return any(unit.facts.first("dwelling") is not None and not _has_surge_device(unit) for unit in units)


def _applies(design: Design) -> bool:
    return (
        reach.dwellings(design)
        or occupancy_of(design) in SLEEPING
        or reach.kinds("fire pump controller")(design)
        or reach.loads_of("elevator")(design)
        or reach.system_classes("emergency")(design)
    )


RULE = Rule(
    id="surge-required",
    severity=Severity.ERROR,
    title="gear that must have surge protection has none",
    why=(
        "Electronics of alarms, drives and controllers die from surges that nobody sees. Where people depend "
        "on them the code asks for a surge device in the gear."
    ),
    clause="700.8",
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
    bond            none

    place           outdoor "Yard"
}
transfer switch ATS1 "Standby" {
    normal from     MSB, 30 ft
    emergency from  G1, 60 ft
    system          emergency
    poles           3
    place           indoor "Electrical room"
}
panelboard LP1 "Standby loads" {
    fed from    ATS1, 15 ft
    place       indoor "Electrical room"

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
    bond            none

    place           outdoor "Yard"
}
transfer switch ATS1 "Standby" {
    normal from     MSB, 30 ft
    emergency from  G1, 60 ft
    system          emergency
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
    check=check,
    life_safety=True,
    applies=_applies,
)
