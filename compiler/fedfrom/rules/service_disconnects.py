"""a service has more disconnects than the code allows."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.protection import gear_rule
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    most = gear_rule(design.edition, "service_disconnects_2020") or gear_rule(
        design.edition, "service_disconnects_2017"
    )
    for tag, gear in design.results.gear.items():
        if not gear.service_equipment or gear.main is not None or gear.gear_class == "wireway":
            continue
        if design.model.items[tag].unreadable or design.model.incomplete:
            continue  # its main waits for a text that can be read
        rows = design.results.circuits.get(tag, ())
        count = sum(1 for row in rows if row.device is not None)
        if most is not None and count > most:
            yield breach(
                "service-disconnects",
                tag,
                f"{tag} has no main, so its {count} devices are all service disconnects; {most:g} are allowed",
                gear.span,
                design.edition.clause("230.71"),
                advice="give it a main",
            )
        elif count > 1 and gear.gear_class in ONE_ENCLOSURE and design.edition.year >= APART_SINCE:
            yield breach(
                "service-disconnects",
                tag,
                f"{tag} has no main, so its {count} devices are service disconnects in one enclosure; each needs an "
                "enclosure or a compartment of its own",
                gear.span,
                design.edition.clause("230.71(B)"),
                advice="give it a main, or make it a switchboard: there each stands in a section of its own",
            )


ONE_ENCLOSURE = ("load center", "panelboard")
APART_SINCE = 2020  # 230.71(B)


RULE = Rule(
    id="service-disconnects",
    severity=Severity.ERROR,
    title="a service has more disconnects than the code allows, or several in one enclosure",
    why=(
        "Whoever cuts the power in an emergency must find all of it in a few throws. A fault in one disconnect must "
        "not reach the others, so each has an enclosure or a barriered section of its own."
    ),
    clause="230.71",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        lugs
    bus         800 A
    place       indoor "Electrical room"
    equipment   "Kiln 1"        30 A, 208 V 3-phase, 60 ft
    equipment   "Kiln 2"        30 A, 208 V 3-phase, 60 ft
    equipment   "Kiln 3"        30 A, 208 V 3-phase, 60 ft
    equipment   "Kiln 4"        30 A, 208 V 3-phase, 60 ft
    equipment   "Kiln 5"        30 A, 208 V 3-phase, 60 ft
    equipment   "Kiln 6"        30 A, 208 V 3-phase, 60 ft
    equipment   "Kiln 7"        30 A, 208 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        lugs
    bus         800 A
    place       indoor "Electrical room"
    equipment   "Kiln 1"        30 A, 208 V 3-phase, 60 ft
    equipment   "Kiln 2"        30 A, 208 V 3-phase, 60 ft
    equipment   "Kiln 3"        30 A, 208 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.services,
)
