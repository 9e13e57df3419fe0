"""A voltage system has no color scheme."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.quantity import VoltageSystem
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    if not reach.several_systems(design):
        return
    schemes = {row["system"] for row in design.edition.rows("conductor_colors")}
    missing: dict[str, str] = {}
    for tag, gear in design.results.gear.items():
        if gear.system is not None and _distributed(gear.system) and gear.system.literal not in schemes:
            missing.setdefault(gear.system.literal, tag)
    for system, tag in missing.items():
        yield breach(
            "system-colors",
            tag,
            f"{tag}: no colors are set for the conductors of {system}, and the building has other systems too",
            design.model.items[tag].tag_span,
            design.edition.clause("210.5(C)"),
            advice="set the colors in a `note` of the project, and post them at the panels",
            severity=Severity.NOTE,
        )


def _distributed(system: VoltageSystem) -> bool:
    """Direct current and isolated power have colors of their own in the code (210.5(C)(2), 517.160(A)(5))."""
    return not system.is_dc and system.grounding != "isolated"


RULE = Rule(
    id="system-colors",
    severity=Severity.NOTE,
    title="a voltage system has no color scheme",
    why=(
        "With two systems in a building, color is what tells a 277 V conductor from a 120 V one in an open "
        "box. The scheme is posted at every panel."
    ),
    clause="210.5(C)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     400Y/230 V
    fault       12 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    electrode   water pipe, 30 ft
    electrode   building steel, 20 ft
}
transformer T1 "Offices" {
    fed from    MSB, 30 ft
    rating      30 kVA
    secondary   208Y/120 V
    impedance   4 %, X/R 2
    electrode   building steel, 20 ft
    place       indoor "Storage 12"
}
panelboard LP1 "Offices" {
    fed from    T1, 10 ft
    main        breaker 100 A
    place       indoor "Storage 12"
    equipment   "Copier"        10 kVA, 208 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       12 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    electrode   water pipe, 30 ft
    electrode   building steel, 20 ft
}
transformer T1 "Offices" {
    fed from    MSB, 30 ft
    rating      30 kVA
    secondary   208Y/120 V
    impedance   4 %, X/R 2
    electrode   building steel, 20 ft
    place       indoor "Storage 12"
}
panelboard LP1 "Offices" {
    fed from    T1, 10 ft
    main        breaker 100 A
    place       indoor "Storage 12"
    equipment   "Copier"        10 kVA, 208 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.several_systems,
)
