"""a device is rated for the symmetrical fault only, and the X/R is above that of its test."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.passes.rating_review import adjusted_duty, fault_of, placed_devices, series_partner
from fedfrom.results.notation import kiloamperes_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    for placed in placed_devices(design.results):
        device = placed.device
        duty = adjusted_duty(design.results, placed)
        if duty is None or device.interrupting_a is None or device.fault_a is None:
            continue
        if series_partner(design.results, placed.bus) or device.status is Status.DEMOLISH:
            continue
        if device.fault_a <= device.interrupting_a < duty:
            fault = fault_of(design.results, placed.bus, device)
            ratio = "all reactance" if fault is None or fault.x_over_r is None else f"X/R {fault.x_over_r:.1f}"
            yield breach(
                "xr-test",
                placed.subject,
                f"{placed.subject}: {kiloamperes_text(device.fault_a)} at {ratio} counts as "
                f"{kiloamperes_text(duty)} against its {kiloamperes_text(device.interrupting_a)}",
                placed.span,
                "UL 489, IEEE C37.13 test power factors",
                (f"state: {device.fault_state}",),
                "take the next higher interrupting rating, or leave it out and a sufficient one is chosen",
                Severity.WARNING,
            )


RULE = Rule(
    id="xr-test",
    severity=Severity.WARNING,
    title="a device is rated for the symmetrical fault only, and the X/R is above that of its test",
    why="Above the X/R of its test the first peak is higher than the rating stands for.",
    clause="practice",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       17 kA at service point, X/R 10
}
switchboard MSB "Main switchboard" {
    fed from    UT, 2 ft, wire by utility
    main        breaker 800 A
    place       indoor "Electrical room"
    equipment   "Furnace"       70 A, 480 V 3-phase, 60 ft, breaker 100 A, interrupting 18 kA
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       17 kA at service point, X/R 10
}
switchboard MSB "Main switchboard" {
    fed from    UT, 2 ft, wire by utility
    main        breaker 800 A
    place       indoor "Electrical room"
    equipment   "Furnace"       70 A, 480 V 3-phase, 60 ft, breaker 100 A, interrupting 25 kA
}
""",
    check=check,
    applies=reach.conductors,
)
