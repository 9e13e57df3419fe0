"""A finding about life safety is accepted without a name and a date."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules.registry import Rule

_TEXT = """fedfrom 1
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
    place           indoor "Pump room"
    surge device    100 kA
    motor       FP-1 "Fire pump"        40 hp, 480 V 3-phase, code G, 12 ft
}
"""

RULE = Rule(
    id="accept-unnamed",
    severity=Severity.ERROR,
    title="a finding about life safety is accepted without a name and a date",
    why=(
        "Some checks stand between a building and people's lives. Whoever sets one aside answers for it, so the "
        "reason has to say who decided it and on which day."
    ),
    clause="practice",
    bad=_TEXT + 'accept gfp-exempt on FPC because "as the last job"\n',
    good=_TEXT + 'accept gfp-exempt on FPC because "R. Ashdown, fire marshal, 2026-05-31: test rig, no occupants"\n',
)
