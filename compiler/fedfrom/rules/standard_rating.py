"""An overcurrent device has a rating that is not a standard one."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.results.notation import amperes_text
from fedfrom.results.types import DeviceResult
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach
from fedfrom.tables import lookup


def check(design: Design) -> Iterator[Finding]:
    for rows in design.results.circuits.values():
        for row in rows:
            if row.kind in ("load", "spare", "tap"):
                yield from _check(design, row.key, row.device)
    for feeder in design.results.feeders.values():
        yield from _check(design, feeder.id, feeder.device)
    for tag, gear in design.results.gear.items():
        yield from _check(design, f"{tag}.main", gear.main)


def _check(design: Design, subject: str, device: DeviceResult | None) -> Iterator[Finding]:
    """Electronic trips are adjustable: their rating is the setting, and 240.6(B) asks for no standard one."""
    if device is None or device.kind == "switch" or "electronic" in device.options or device.functions:
        return
    ratings = lookup.standard_ratings(design.edition, "fuse" if device.fuse_a is not None else "breaker")
    if any(abs(rating - device.protects_a) < 0.001 for rating in ratings):
        return
    below = [rating for rating in ratings if rating < device.protects_a]
    above = [rating for rating in ratings if rating > device.protects_a]
    near = " or ".join(amperes_text(rating) for rating in (*below[-1:], *above[:1]))
    yield breach(
        "standard-rating",
        subject,
        f"{subject}: {amperes_text(device.protects_a)} is not a standard rating",
        device.span,
        design.edition.clause("240.6(A)"),
        advice=f"take {near}",
    )


RULE = Rule(
    id="standard-rating",
    severity=Severity.ERROR,
    title="an overcurrent device has a rating that is not a standard one",
    why="Devices are bought in standard ratings; any other needs an adjustable trip, which must then be named.",
    clause="240.6(A)",
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
    receptacles "Office 1"      6 outlets, 60 ft, breaker 22 A
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
    receptacles "Office 1"      6 outlets, 60 ft, breaker 20 A
}
""",
    check=check,
    applies=reach.conductors,
)
