"""A service is smaller than its load or than the code allows."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.passes.service_minimum import least_for
from fedfrom.results.types import DeviceResult, GearResult
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    for tag, gear in design.results.gear.items():
        item = design.model.items[tag]
        if not gear.service_equipment or gear.status is not Status.NEW or item.kind in ("wireway", "meter center"):
            continue
        if item.unreadable or design.model.incomplete:
            continue  # the load is not known while some line cannot be read
        disconnects = _disconnects(design, gear)
        rated = sum(device.protects_a for device in disconnects)
        if not rated:
            continue
        circuits = len(design.results.circuits.get(tag, ()))
        least, key = least_for(design.edition, item.facts.first("dwelling") is not None, circuits)
        if rated < least:
            message = f"{tag}: a service of {rated:g} A, {least:g} A is the least"
            span = disconnects[0].span or gear.span
            yield breach(
                "service-capacity", tag, message, span, design.edition.clause(key), advice="take a larger main"
            )
        demand = max((load.demand_a for load in design.results.loads.get(tag, {}).values()), default=0.0)
        if len(disconnects) > 1 and demand > rated:
            message = f"{tag}: {demand:.0f} A of load on service disconnects of {rated:g} A together"
            clause = design.edition.clause("230.79")
            advice = "take larger disconnects, or a main"
            yield breach("service-capacity", tag, message, gear.span, clause, advice=advice)


def _disconnects(design: Design, gear: GearResult) -> list[DeviceResult]:
    """The service disconnects: the device at the source of the service, else the main, else every device on the bus."""
    ahead = [
        feeder.device
        for feeder in design.results.feeders.values()
        if feeder.target == gear.tag and feeder.kind == "service" and feeder.device is not None
    ]
    if ahead or gear.main is not None:
        return ahead or ([gear.main] if gear.main is not None else [])
    return [row.device for row in design.results.circuits.get(gear.tag, ()) if row.device is not None]


RULE = Rule(
    id="service-capacity",
    severity=Severity.ERROR,
    title="a service is smaller than its load or than the code allows",
    why=(
        "The service is the one thing that cannot be enlarged next week. Its disconnects together must carry "
        "the calculated load, and a house starts at 100 A."
    ),
    clause="230.79",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     120/240 V
    fault       9 kA at service point, X/R 3
}
load center LC "House" {
    fed from        UT, 20 ft
    main            breaker 60 A
    place           outdoor "East wall"
    dwelling        900 ft2, small-appliance 2, laundry 1
    surge device    50 kA
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     120/240 V
    fault       9 kA at service point, X/R 3
}
load center LC "House" {
    fed from        UT, 20 ft
    main            breaker 100 A
    place           outdoor "East wall"
    dwelling        900 ft2, small-appliance 2, laundry 1
    surge device    50 kA
}
""",
    check=check,
    applies=reach.services,
)
