"""Gear that must have surge protection has none."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.rules import reach
from fedfrom.rules.ats_class import classes_of_gear
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

BOARDS = ("panelboard", "switchboard")


def check(design: Design) -> Iterator[Finding]:
    classes = classes_of_gear(design)
    for tag, gear in design.results.gear.items():
        item = design.model.items[tag]
        if gear.status is not Status.NEW or gear.by or item.facts.first("surge device") is not None:
            continue
        reason, key = "", ""
        if gear.gear_class in BOARDS and classes.get(tag) == "emergency":
            reason, key = "is part of an emergency system", "700.8"
        elif item.kind == "fire pump controller":
            reason, key = "is a fire pump controller", "695.15"
        elif item.facts.first("dwelling") is not None and _feeders_too(design) and not gear.service_equipment:
            reason, key = "serves a dwelling unit", "215.18"
        if reason:
            yield breach(
                "surge-required",
                tag,
                f"{tag} {reason} and has no surge device",
                gear.span,
                design.edition.clause(key),
                advice="write `surge device 100 kA`",
            )


def _feeders_too(design: Design) -> bool:
    return any(row["key"] == "spd_feeder_2023" for row in design.edition.rows("gear_rules_nec"))


def _applies(design: Design) -> bool:
    return (
        reach.dwellings(design)
        or reach.kinds("fire pump controller")(design)
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
