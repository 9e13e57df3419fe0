"""A trip is larger than its frame."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.results.notation import amperes_text
from fedfrom.results.types import DeviceResult
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    results = design.results
    named = [(row.key, row.device) for rows in results.circuits.values() for row in rows if row.kind != "feeder"]
    named += [(feeder.id, feeder.device) for feeder in results.feeders.values()]
    named += [(f"{tag}.main", gear.main) for tag, gear in results.gear.items()]
    for subject, device in named:
        if device is not None and _too_large(device):
            yield breach(
                "trip-over-frame",
                subject,
                f"{subject}: trip {amperes_text(device.rating_a)} in a frame of {amperes_text(device.frame_a)}",
                device.span,
                design.edition.clause("UL 489"),
                advice="take a larger frame or a smaller trip",
            )


def _too_large(device: DeviceResult) -> bool:
    return device.frame_a is not None and device.kind == "breaker" and device.rating_a > device.frame_a + 0.001


RULE = Rule(
    id="trip-over-frame",
    severity=Severity.ERROR,
    title="a trip is larger than its frame",
    why="A frame takes trips up to its own rating.",
    clause="UL 489",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
}
panelboard LP "Lighting" {
    fed from    MDP, 60 ft, breaker 250 A, frame 225 A
    main        lugs
    place       indoor "Room 2"
    receptacles "Offices"       8 outlets, 60 ft
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
    main        breaker 400 A
    place       indoor "Electrical room"
}
panelboard LP "Lighting" {
    fed from    MDP, 60 ft, breaker 200 A, frame 225 A
    main        lugs
    place       indoor "Room 2"
    receptacles "Offices"       8 outlets, 60 ft
}
""",
    check=check,
    applies=reach.conductors,
)
