"""a large service disconnect has no ground-fault protection."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.passes.protection import has_ground_fault, needs_ground_fault
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    for tag, gear in design.results.gear.items():
        device = gear.main
        if device is None or not gear.service_equipment or device.status is not Status.NEW:
            continue
        if gear.gear_class == "fire pump controller" or has_ground_fault(device):
            continue
        if needs_ground_fault(design.edition, gear.system, device.protects_a, True):
            yield breach(
                "gfp-service",
                f"{tag}.main",
                f"{tag}: a {device.protects_a:g} A service disconnect at {gear.system.literal if gear.system else ''} "
                "needs ground-fault protection",
                device.span or gear.span,
                design.edition.clause("230.95"),
                ("set to 1200 A at most, and to 1 s at most for 3000 A or more",),
                "write `LSIG`, or leave the functions out and they are chosen",
            )


RULE = Rule(
    id="gfp-service",
    severity=Severity.ERROR,
    title="a large service disconnect has no ground-fault protection",
    why="An arcing fault to ground at 277 V burns on below what the breaker takes for an overload.",
    clause="230.95",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 1200 A, LSI, arc reduction maintenance switch
    place       indoor "Electrical room"
    equipment   "Furnace"       70 A, 480 V 3-phase, 60 ft
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
    main        breaker 1200 A, LSIG, arc reduction maintenance switch
    place       indoor "Electrical room"
    equipment   "Furnace"       70 A, 480 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.services,
)
