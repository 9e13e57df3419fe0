"""The supply of a fire pump may be cut off when the pump is needed."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Item
from fedfrom.passes.start_dip import standstill_va
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked

CONTROLLER = "fire pump controller"


def check(design: Design) -> Iterator[Finding]:
    for feeder in design.results.feeders.values():
        target = design.model.items[feeder.target]
        source = design.model.items.get(feeder.source)
        if target.kind != CONTROLLER or feeder.status.is_gone or feeder.device is None:
            continue
        device = feeder.device
        span = device.span or feeder.span
        locked = locked_rotor_a(design, target)
        clause = design.edition.clause("695.4(B)(2)(a)")
        if locked is None:
            yield not_checked("fire-pump-path", feeder.id, f"the hp of the motors of {target.tag}", span, clause)
        elif device.protects_a < locked:
            yield breach(
                "fire-pump-path",
                feeder.id,
                f"{feeder.id}: {device.protects_a:g} A does not carry the locked rotor of {locked:.0f} A",
                span,
                clause,
                advice="take the next standard rating above the sum of the locked-rotor currents",
            )
        elif not SUPERVISED & set(device.options):
            yield breach(
                "fire-pump-path",
                feeder.id,
                f"{feeder.id}: nothing keeps the disconnect of the fire pump closed",
                span,
                design.edition.clause("695.4"),
                advice="write `supervised` for it (locked, sealed or signaled)",
            )
        elif feeder.point == "bus" and source is not None and source.kind not in ("utility", "generator"):
            yield breach(
                "fire-pump-path",
                feeder.id,
                f"{feeder.id}: fed from the bus of {feeder.source}, so its main stops the pump",
                feeder.span,
                design.edition.clause("695.3"),
                advice=f"write `fed from {feeder.source} ahead of main`, or give it a service of its own",
            )


SUPERVISED = frozenset(("supervised", "lock-on"))


def locked_rotor_a(design: Design, controller: Item) -> float | None:
    """The sum of the locked-rotor currents of the motors, by code letter or table, A; None where one is not known."""
    node = design.network.nodes[controller.tag]
    volts = node.system.line_to_line_v if node.system is not None else 0.0
    total = 0.0
    for load in controller.loads:
        if load.kind != "motor" or load.amount.form != "hp" or load.amount.quantity is None or not volts:
            return None
        started = standstill_va(design.edition, load, load.amount.quantity, volts, load.phases or 3)
        if started is None:
            return None
        total += started[0] / volts / (3**0.5 if (load.phases or 3) == 3 else 1.0)
    return total or None


RULE = Rule(
    id="fire-pump-path",
    severity=Severity.ERROR,
    title="the supply of a fire pump may be cut off when the pump is needed",
    why=(
        "A fire pump runs until the fire is out or the pump burns. Its supply must carry the locked rotor "
        "without tripping, and nobody may open it unseen."
    ),
    clause="695.4",
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
}
fire pump controller FPC "Fire pump" {
    fed from        MSB ahead of main, 48 ft, breaker 125 A, supervised
    surge device    100 kA
    place           indoor "Pump room"
    motor       FP-1 "Fire pump"        40 hp, 480 V 3-phase, code G, 12 ft
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
}
fire pump controller FPC "Fire pump" {
    fed from        MSB ahead of main, 48 ft, breaker 400 A, supervised
    surge device    100 kA
    place           indoor "Pump room"
    motor       FP-1 "Fire pump"        40 hp, 480 V 3-phase, code G, 12 ft
}
""",
    check=check,
    life_safety=True,
    applies=reach.kinds("fire pump controller"),
)
