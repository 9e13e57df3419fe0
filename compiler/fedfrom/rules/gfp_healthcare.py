"""A health care building has ground-fault protection at its service only."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.passes.protection import has_ground_fault
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import occupancy_of
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

BRANCHES = ("life safety branch", "critical branch", "equipment branch")


def check(design: Design) -> Iterator[Finding]:
    if not _is_health_care(design):
        return
    for feeder in design.results.feeders.values():
        gear = design.results.gear.get(feeder.source)
        device = feeder.device
        if gear is None or not gear.service_equipment or gear.main is None or not has_ground_fault(gear.main):
            continue
        if device is None or device.status is not Status.NEW or has_ground_fault(device):
            continue
        if design.model.items[feeder.target].kind == "fire pump controller":
            continue
        yield breach(
            "gfp-healthcare",
            feeder.id,
            f"{feeder.id}: no ground-fault protection in this feeder, the next level below {feeder.source}.main",
            device.span or feeder.span,
            design.edition.clause("517.17(B)"),
            (f"{feeder.source}.main has ground-fault protection",),
            "write `LSIG` on the feeder; the study sets it to clear before the main",
        )


def _is_health_care(design: Design) -> bool:
    return occupancy_of(design) == "hospital" or reach.system_classes(*BRANCHES)(design)


RULE = Rule(
    id="gfp-healthcare",
    severity=Severity.ERROR,
    title="a health care building has ground-fault protection at its service only",
    why=(
        "With one level only, a ground fault in a corridor cleaner trips the whole hospital to its "
        "generators. A second level in every feeder clears it there."
    ),
    clause="517.17",
    bad="""fedfrom 1
project "Example" { code NEC 2023, occupancy hospital }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 1200 A, LSIG, arc reduction maintenance switch
    place       indoor "Electrical room"
}
panelboard HP1 "Ward" {
    fed from    MSB, 60 ft, breaker 200 A, LSI
    place       indoor "Ward"
    equipment   "Sterilizer"    60 A, 480 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023, occupancy hospital }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 1200 A, LSIG, arc reduction maintenance switch
    place       indoor "Electrical room"
}
panelboard HP1 "Ward" {
    fed from    MSB, 60 ft, breaker 200 A, LSIG
    place       indoor "Ward"
    equipment   "Sterilizer"    60 A, 480 V 3-phase, 60 ft
}
""",
    check=check,
    life_safety=True,
    applies=_is_health_care,
)
