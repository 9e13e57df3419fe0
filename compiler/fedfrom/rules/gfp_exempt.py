"""Ground-fault protection stands in the path of a fire pump."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.passes.protection import WITHOUT_GROUND_FAULT, has_ground_fault
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    for feeder in design.results.feeders.values():
        target = design.model.items.get(feeder.target)
        if target is None or target.kind not in WITHOUT_GROUND_FAULT or feeder.status is Status.DEMOLISH:
            continue
        if feeder.device is not None and has_ground_fault(feeder.device):
            yield breach(
                "gfp-exempt",
                feeder.id,
                f"{feeder.id}: a fire pump must not be cut off by ground-fault protection",
                feeder.device.span or feeder.span,
                design.edition.clause("695.6(G)"),
                advice="leave the G out of the trip functions of this device",
            )


RULE = Rule(
    id="gfp-exempt",
    severity=Severity.ERROR,
    title="ground-fault protection stands in the path of a fire pump",
    why="A fire pump has to run through faults that would trip anything else.",
    clause="695.6(G)",
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
}
fire pump controller FPC "Fire pump" {
    fed from        MSB ahead of main, 40 ft, breaker 400 A, LSIG, supervised
    surge device    100 kA
    place           indoor "Pump room"
    motor       FP-1 "Fire pump"        40 hp, 480 V 3-phase, code G, 12 ft
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
}
fire pump controller FPC "Fire pump" {
    fed from        MSB ahead of main, 40 ft, breaker 400 A, LSI, supervised
    surge device    100 kA
    place           indoor "Pump room"
    motor       FP-1 "Fire pump"        40 hp, 480 V 3-phase, code G, 12 ft
}
""",
    check=check,
    life_safety=True,
    applies=reach.kinds("fire pump controller"),
)
