"""a large overcurrent device has no means to reduce arc energy."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.passes.protection import needs_arc_reduction
from fedfrom.passes.rating_review import placed_devices
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

FUSED_NOTE = "none is needed where the fuses clear in 0.07 s at the arcing current: a study shows it"


def check(design: Design) -> Iterator[Finding]:
    for placed in placed_devices(design.results):
        device = placed.device
        if device.status is not Status.NEW or device.by or device.arc_reduction:
            continue
        if needs_arc_reduction(design.edition, device):
            fused = device.fuse_a is not None
            yield breach(
                "arc-energy",
                placed.subject,
                f"{placed.subject}: {device.protects_a:g} A without a means to reduce arc energy",
                placed.span,
                design.edition.clause("240.67" if fused else "240.87"),
                (FUSED_NOTE,) if fused else (),
                "name one: `arc reduction maintenance switch`, `zone interlock`, `differential` …",
            )


RULE = Rule(
    id="arc-energy",
    severity=Severity.ERROR,
    title="a large overcurrent device has no means to reduce arc energy",
    why="Work near energized gear is deadly where an arc is left to burn as long as coordination asks for.",
    clause="240.87",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        fused switch 1200 A, fuse 1200 A class L, GFPE
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
    main        fused switch 1200 A, fuse 1200 A class L, GFPE, arc reduction differential
    place       indoor "Electrical room"
    equipment   "Furnace"       70 A, 480 V 3-phase, 60 ft
}
""",
    check=check,
    life_safety=True,
    applies=reach.conductors,
)
