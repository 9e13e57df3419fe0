"""gear or devices on direct current: their DC rating is not checked."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import not_checked


def check(design: Design) -> Iterator[Finding]:
    for tag, gear in design.results.gear.items():
        if gear.system is not None and gear.system.is_dc and gear.status is not Status.DEMOLISH:
            needs = (
                f"the DC fault current, and the listed DC voltage, poles in series and rating of {tag} and its devices"
            )
            yield not_checked("dc-rated", tag, needs, gear.span, design.edition.clause("110.4"))


RULE = Rule(
    id="dc-rated",
    severity=Severity.NOT_CHECKED,
    title="gear or devices on direct current: their DC rating is not checked",
    why="A rating for alternating current says nothing about direct current, where no current zero helps the arc out.",
    clause="110.4",
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
}
rectifier RF1 "Controls" {
    fed from    MDP, 20 ft, breaker 40 A
    rating      5 kW
    secondary   125 V DC
    place       indoor "Electrical room"
}
panelboard DC1 "Control power" {
    fed from    RF1, 20 ft
    main        breaker 100 A
    place       indoor "Electrical room"
    equipment   "Relays"        10 A, 125 V, 30 ft
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
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.direct_current,
)
