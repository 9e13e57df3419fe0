"""A house has no emergency disconnect outside."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.passes.place import place_of
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked

MOST_UNITS = 2  # one- and two-family dwellings


def check(design: Design) -> Iterator[Finding]:
    dwellings = [tag for tag, item in design.model.items.items() if item.facts.first("dwelling") is not None]
    since_2020 = any(row["key"] == "emergency_disconnect" for row in design.edition.rows("gear_rules_nec"))
    if not dwellings or len(dwellings) > MOST_UNITS or not since_2020:
        return
    for tag, gear in design.results.gear.items():
        item = design.model.items[tag]
        if not gear.service_equipment or gear.status is not Status.NEW:
            continue
        place = place_of(design.model, item)
        clause = design.edition.clause("230.85")
        if place is None:
            yield not_checked("dwelling-emergency-disconnect", tag, f"the `place` of {tag}", gear.span, clause)
        elif not place.outdoor:
            message = f"{tag}, the service disconnect of a dwelling, is inside"
            advice = "put it outdoors, or a disconnect ahead of it that is"
            yield breach("dwelling-emergency-disconnect", tag, message, place.span, clause, advice=advice)


RULE = Rule(
    id="dwelling-emergency-disconnect",
    severity=Severity.ERROR,
    title="a house has no emergency disconnect outside",
    why=(
        "Firefighters cut the power before they open the roof. They can do it only where the disconnect is "
        "outside and marked."
    ),
    clause="230.85",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     120/240 V
    fault       9 kA at service point, X/R 3
}
load center LC "House" {
    fed from        UT, 20 ft
    main            breaker 200 A
    place           indoor "Utility room"
    dwelling        1500 ft2, small-appliance 2, laundry 1
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
    main            breaker 200 A
    place           outdoor "East wall"
    dwelling        1500 ft2, small-appliance 2, laundry 1
    surge device    50 kA
}
""",
    check=check,
    life_safety=True,
    applies=reach.dwellings,
)
