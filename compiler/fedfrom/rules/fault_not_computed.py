"""the fault current somewhere is not known for want of a fact."""

from __future__ import annotations

from fedfrom.findings import Severity
from fedfrom.rules import reach
from fedfrom.rules.registry import Rule

RULE = Rule(
    id="fault-not-computed",
    severity=Severity.NOT_CHECKED,
    title="the fault current somewhere is not known for want of a fact",
    why=(
        "Every short-circuit rating rests on it. Gear that is ordered without it is ordered blind, so no rating "
        "below is called sufficient until the fact is there."
    ),
    clause="110.9",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
generator G1 "Standby" {
    rating      200 kW
    voltage     480Y/277 V
    main        breaker, LSI
    bond        none
    place       outdoor "Yard"
}
transfer switch ATS1 "Standby" {
    normal from     UT, 20 ft, breaker 600 A, LSI
    emergency from  G1, 40 ft
    poles           3
    system          optional standby
    place           indoor "Electrical room"
}
panelboard LP1 "Standby loads" {
    fed from    ATS1, 15 ft
    place       indoor "Electrical room"
    equipment   "Furnace"       200 A, 480 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
generator G1 "Standby" {
    rating          200 kW
    voltage         480Y/277 V
    subtransient    12 %
    main            breaker, LSI
    bond            none
    place           outdoor "Yard"
}
transfer switch ATS1 "Standby" {
    normal from     UT, 20 ft, breaker 600 A, LSI
    emergency from  G1, 40 ft
    poles           3
    system          optional standby
    place           indoor "Electrical room"
}
panelboard LP1 "Standby loads" {
    fed from    ATS1, 15 ft
    place       indoor "Electrical room"
    equipment   "Furnace"       200 A, 480 V 3-phase, 60 ft
}
""",
    applies=reach.gear,
)
