"""a device may have to interrupt more than it is rated for."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.passes.rating_review import PlacedDevice, placed_devices, series_partner
from fedfrom.results.notation import kiloamperes_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked


def check(design: Design) -> Iterator[Finding]:
    unknown: dict[str, int] = {}
    for placed in placed_devices(design.results):
        device = placed.device
        if device.kind == "switch" or device.fault_a is None or device.status is Status.DEMOLISH:
            continue
        if device.interrupting_a is None:
            unknown[placed.bus] = unknown.get(placed.bus, 0) + 1
        elif device.interrupting_a < device.fault_a and not _series(design, placed):
            yield breach(
                "interrupting-rating",
                placed.subject,
                f"{placed.subject}: interrupts {kiloamperes_text(device.interrupting_a)}, "
                f"but {kiloamperes_text(device.fault_a)} is available at {placed.bus}",
                placed.span,
                design.edition.clause("110.9"),
                (f"state: {device.fault_state}",),
                "leave the rating out and a sufficient one is chosen; or declare a tested series combination",
            )
    for bus, count in unknown.items():
        devices = f"{count} device{'s' if count > 1 else ''} at {bus}"
        span = design.model.items[bus].tag_span if bus in design.model.items else None
        needs = f"the interrupting rating of {devices}"
        yield not_checked("interrupting-rating", bus, needs, span, design.edition.clause("110.9"))


def _series(design: Design, placed: PlacedDevice) -> bool:
    """Whether a declared series combination covers the device; its own checks are the series rules'."""
    gear = design.results.gear.get(placed.bus)
    if not series_partner(design.results, placed.bus) or gear is None or gear.sccr_a is None:
        return False
    return placed.device.fault_a is not None and gear.sccr_a >= placed.device.fault_a


RULE = Rule(
    id="interrupting-rating",
    severity=Severity.ERROR,
    title="a device may have to interrupt more than it is rated for",
    why="A device that opens above its rating can burst.",
    clause="110.9",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 10 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    equipment   "Furnace"       70 A, 480 V 3-phase, 60 ft, breaker 100 A, interrupting 14 kA
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 10 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    equipment   "Furnace"       70 A, 480 V 3-phase, 60 ft, breaker 100 A, interrupting 35 kA
}
""",
    check=check,
    life_safety=True,
    applies=reach.conductors,
)
