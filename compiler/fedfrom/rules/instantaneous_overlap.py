"""A fault below would open the device ahead too, on a path that must be selective."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.results.notation import kiloamperes_text
from fedfrom.results.types import FeederResult
from fedfrom.rules import reach
from fedfrom.rules.ats_class import classes_of_gear
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

CLAUSES = {
    "emergency": "700.32",
    "legally required": "701.32",
    "critical operations": "708.54",
    "life safety branch": "700.32",
}
INSTANTANEOUS = 10.0  # a molded-case breaker trips without delay at about ten times its rating: common practice


def check(design: Design) -> Iterator[Finding]:
    classes = classes_of_gear(design)
    for feeder in design.results.feeders.values():
        device = feeder.device
        switch = design.results.transfers.get(feeder.target)
        key = CLAUSES.get(classes.get(feeder.target, "") or (switch.system_class if switch is not None else ""))
        fault = _fault_through(design, feeder)
        if key is None or device is None or fault is None or feeder.status.is_gone:
            continue
        trips_at = INSTANTANEOUS * device.rating_a
        if device.kind != "breaker" or "S" in device.functions or fault <= trips_at:
            continue
        yield breach(
            "instantaneous-overlap",
            feeder.id,
            f"{feeder.id}: {kiloamperes_text(fault)} at {feeder.target} is above about {kiloamperes_text(trips_at)}, "
            f"where the {device.rating_a:g} A breaker ahead trips at once",
            device.span or feeder.span,
            design.edition.clause(key),
            ("a screening only: the study decides by the trip curves",),
            "write `LSI` for this breaker, or take fuses above and below",
            Severity.NOTE,
        )


def _fault_through(design: Design, feeder: FeederResult) -> float | None:
    """The greatest fault current at the end of a feeder in the states in which it carries; None where none is known.

    A transformer's figure is that of its secondary, which the device ahead of it does not see.
    """
    if feeder.target in design.results.transformers:
        return None
    carrying = [
        state.name for state in design.plan.states
        if state.parent.get(feeder.target) == feeder.id or feeder.id in state.parallel.get(feeder.target, ())
    ]  # fmt: skip
    found = design.results.faults.get(feeder.target, {})
    return max((found[name].greatest_a for name in carrying if name in found), default=None)


RULE = Rule(
    id="instantaneous-overlap",
    severity=Severity.NOTE,
    title="a fault below would open the device ahead too, on a path that must be selective",
    why=(
        "Above the instantaneous trip of the upper breaker both breakers see the same fault and race. This is "
        "the first thing that the coordination study will find."
    ),
    clause="700.32",
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
generator G1 "Standby" {
    rating          200 kW
    voltage         480Y/277 V
    subtransient    12 %
    main            breaker, LSI
    bond            none

    place           outdoor "Yard"
}
transfer switch ATS1 "Standby" {
    normal from     MSB, 30 ft, breaker 100 A
    emergency from  G1, 60 ft
    system          legally required
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
    fault       12 kA at service point, X/R 4
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
    main            breaker, LSI
    bond            none

    place           outdoor "Yard"
}
transfer switch ATS1 "Standby" {
    normal from     MSB, 30 ft, breaker 100 A
    emergency from  G1, 60 ft
    system          optional standby
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
    applies=reach.system_classes("emergency", "legally required", "critical operations", "life safety branch"),
)
