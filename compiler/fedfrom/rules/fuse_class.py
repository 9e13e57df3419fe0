"""A fuse of a class that another fits in place of."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.passes.rating_review import placed_devices
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked

WITHOUT_REJECTION = ("H", "K5")


def check(design: Design) -> Iterator[Finding]:
    for placed in placed_devices(design.results):
        device = placed.device
        if device.fuse_a is None or device.status is not Status.NEW or device.by:
            continue
        clause = design.edition.clause("240.60(B)")
        if not device.fuse_class:
            yield not_checked("fuse-class", placed.subject, f"the fuse class of {placed.subject}", placed.span, clause)
        elif device.fuse_class in WITHOUT_REJECTION:
            yield breach(
                "fuse-class",
                placed.subject,
                f"{placed.subject}: class {device.fuse_class} fuses have no rejection feature",
                placed.span,
                clause,
                advice="take class J, RK1, RK5, T or CC, and clips that reject the rest",
                severity=Severity.WARNING,
            )


RULE = Rule(
    id="fuse-class",
    severity=Severity.WARNING,
    title="a fuse of a class that another fits in place of",
    why=(
        "Where the clips take any fuse, one day somebody puts in one that cannot clear the fault. Classes "
        "with a rejection feature rule that out."
    ),
    clause="240.60(B)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft, fused switch 60 A, fuse 50 A class K5
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft, fused switch 60 A, fuse 50 A class RK1
}
""",
    check=check,
    applies=lambda design: any(each.device.fuse_a is not None for each in placed_devices(design.results)),
)
