"""A service is smaller than its load or than the code allows."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

LEAST_DWELLING_A, LEAST_A = 100.0, 60.0  # NEC 230.79(C), (D)
SMALL_CIRCUITS = 2  # NEC 230.79(B): to two two-wire circuits 30 A will do


def check(design: Design) -> Iterator[Finding]:
    for tag, gear in design.results.gear.items():
        item = design.model.items[tag]
        if not gear.service_equipment or gear.status is not Status.NEW or item.kind in ("wireway", "meter center"):
            continue
        rows = design.results.circuits.get(tag, ())
        devices = [row.device for row in rows if row.device is not None]
        rated = gear.main.protects_a if gear.main is not None else sum(device.protects_a for device in devices)
        house = item.facts.first("dwelling") is not None
        least = LEAST_DWELLING_A if house else LEAST_A
        key = "230.79(C)" if house else "230.79(D)"
        if rated and rated < least and (house or len(rows) > SMALL_CIRCUITS):
            message = f"{tag}: a service of {rated:g} A, {least:g} A is the least"
            span = (gear.main.span if gear.main is not None else None) or gear.span
            clause = design.edition.clause(key)
            yield breach("service-capacity", tag, message, span, clause, advice="take a larger main")
        loads = design.results.loads.get(tag, {})
        demand = max((load.demand_a for load in loads.values()), default=0.0)
        if rated and gear.main is None and demand > rated:
            message = f"{tag}: {demand:.0f} A of load on service disconnects of {rated:g} A together"
            clause = design.edition.clause("230.79")
            advice = "take larger disconnects, or a main"
            yield breach("service-capacity", tag, message, gear.span, clause, advice=advice)


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
