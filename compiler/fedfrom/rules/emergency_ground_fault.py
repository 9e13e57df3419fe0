"""The source of an emergency system trips on a ground fault."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.protection import has_ground_fault
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    emergency = any(each.system_class == "emergency" for each in design.results.transfers.values())
    for tag, source in design.results.sources.items():
        if not emergency or source.kind != "generator" or source.main is None or source.status.is_gone:
            continue
        if has_ground_fault(source.main):
            yield breach(
                "emergency-ground-fault",
                f"{tag}.main",
                f"{tag}.main trips on a ground fault and so takes down the emergency system",
                source.main.span or source.span,
                design.edition.clause("700.6(D)"),
                advice="write `LSIA`: the ground fault gives an alarm",
                severity=Severity.WARNING,
            )


RULE = Rule(
    id="emergency-ground-fault",
    severity=Severity.WARNING,
    title="the source of an emergency system trips on a ground fault",
    why=(
        "A lamp fitting with a ground fault must not darken the way out. On the emergency source a ground "
        "fault is shown, not cleared."
    ),
    clause="700.6(D)",
    bad="""fedfrom 1
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
generator G1 "Standby" {
    rating          200 kW
    voltage         480Y/277 V
    subtransient    12 %
    main            breaker, LSIG
    bond            none

    place           outdoor "Yard"
}
transfer switch ATS1 "Standby" {
    normal from     MSB, 30 ft
    emergency from  G1, 60 ft
    system          emergency
    poles           3
    place           indoor "Electrical room"
}
panelboard LP1 "Standby loads" {
    fed from        ATS1, 15 ft
    place           indoor "Electrical room"
    surge device    100 kA
    equipment   "Furnace"       60 A, 480 V 3-phase, 60 ft
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
generator G1 "Standby" {
    rating          200 kW
    voltage         480Y/277 V
    subtransient    12 %
    main            breaker, LSIA
    bond            none

    place           outdoor "Yard"
}
transfer switch ATS1 "Standby" {
    normal from     MSB, 30 ft
    emergency from  G1, 60 ft
    system          emergency
    poles           3
    place           indoor "Electrical room"
}
panelboard LP1 "Standby loads" {
    fed from        ATS1, 15 ft
    place           indoor "Electrical room"
    surge device    100 kA
    equipment   "Furnace"       60 A, 480 V 3-phase, 60 ft
}
""",
    check=check,
    life_safety=True,
    applies=reach.system_classes("emergency"),
)
