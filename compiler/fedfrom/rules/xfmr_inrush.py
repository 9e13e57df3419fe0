"""The primary device of a transformer may trip when it is switched on."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

INRUSH, SECONDS = 12.0, 0.1  # times rated current, common practice, no source
INSTANTANEOUS = 10.0  # a molded-case breaker trips without delay at about ten times its rating: common practice


def check(design: Design) -> Iterator[Finding]:
    for tag, result in design.results.transformers.items():
        device = result.primary_device
        if device is None or result.primary_a is None or device.fuse_a is not None or result.status.is_gone:
            continue
        inrush = INRUSH * result.primary_a
        if device.status is not Status.NEW or INSTANTANEOUS * device.rating_a >= inrush:
            continue
        yield breach(
            "xfmr-inrush",
            tag,
            f"{tag}: about {inrush:.0f} A of inrush, and its {device.rating_a:g} A device may trip at "
            f"{INSTANTANEOUS * device.rating_a:.0f} A",
            device.span or result.span,
            design.edition.clause("practice"),
            (f"inrush {INRUSH:g} times rated current for {SECONDS:g} s",),
            "take a larger device within the limits for transformers, or one with a higher instantaneous setting",
            Severity.NOTE,
        )


RULE = Rule(
    id="xfmr-inrush",
    severity=Severity.NOTE,
    title="the primary device of a transformer may trip when it is switched on",
    why=(
        "For a tenth of a second a transformer draws about twelve times its current. A device that is too "
        "tight trips on it."
    ),
    clause="practice",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       12 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    electrode   water pipe, 30 ft
    electrode   building steel, 20 ft
}
transformer T1 "Offices" {
    fed from    MSB, 30 ft, breaker 60 A
    rating      75 kVA
    secondary   208Y/120 V
    impedance   4.5 %, X/R 2
    electrode   building steel, 20 ft
}
panelboard LP1 "Offices" {
    fed from    T1, 10 ft
    main        breaker 200 A
    place       indoor "Storage 12"
    equipment   "Copier"        15 kVA, 208 V 3-phase, 60 ft
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
    electrode   water pipe, 30 ft
    electrode   building steel, 20 ft
}
transformer T1 "Offices" {
    fed from    MSB, 30 ft, breaker 125 A
    rating      75 kVA
    secondary   208Y/120 V
    impedance   4.5 %, X/R 2
    electrode   building steel, 20 ft
}
panelboard LP1 "Offices" {
    fed from    T1, 10 ft
    main        breaker 200 A
    place       indoor "Storage 12"
    equipment   "Copier"        15 kVA, 208 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.transformers,
)
