"""A fault may spoil the insulation of a feeder before its device opens."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.formulas.conductor_withstand import withstand_seconds
from fedfrom.results.notation import kiloamperes_text, size_text
from fedfrom.results.types import ConductorResult
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import GONE
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach
from fedfrom.tables import lookup

DELAY_S = 0.5  # the longest short-time delay of a breaker, 30 cycles: common practice
CLEARING_S = 0.025  # a molded-case breaker without delay, 1.5 cycles: common practice


def check(design: Design) -> Iterator[Finding]:
    for feeder in design.results.feeders.values():
        device, conductors = feeder.device, feeder.conductors
        if device is None or conductors is None or feeder.status in GONE or conductors.by or device.kind == "switch":
            continue
        if device.fuse_a is not None or device.fault_a is None or "current-limiting" in device.options:
            continue
        stands = _stands(design, conductors, device.fault_a)
        flows = DELAY_S if "S" in device.functions else CLEARING_S
        if stands is None or stands >= flows:
            continue
        how = f"with a delay of up to {DELAY_S:g} s" if "S" in device.functions else "without delay"
        yield breach(
            "conductor-withstand",
            feeder.id,
            f"{feeder.id}: {size_text(conductors.phase)} stands {kiloamperes_text(device.fault_a)} for {stands:.3f} s, "
            f"and its breaker opens {how}",
            feeder.span,
            design.edition.clause("ICEA P-32-382"),
            (f"state: {device.fault_state}", "heat taken up by one set, none lost; the study gives the clearing time"),
            "take no delay on this feeder, current-limiting fuses, or larger conductors",
            Severity.NOTE,
        )


def _stands(design: Design, conductors: ConductorResult, fault_a: float) -> float | None:
    """Seconds that the conductors stand the fault, the sets sharing it; None where size or insulation is not known."""
    area = lookup.area_kcmil(design.edition, conductors.phase)
    rating = 75 if conductors.insulation.startswith(("TH", "TW")) else 90  # thermoplastic, else crosslinked
    for row in design.edition.rows("conductor_withstand"):
        if area is not None and row["material"] == conductors.material and int(row["insulation_c"]) == rating:
            figures = (float(row[name]) for name in ("constant", "zero_c", "start_c", "end_c"))
            return withstand_seconds(fault_a / conductors.sets, area, *figures)
    return None


RULE = Rule(
    id="conductor-withstand",
    severity=Severity.NOTE,
    title="a fault may spoil the insulation of a feeder before its device opens",
    why=(
        "A device with a delay lets the full fault flow while it waits. Small conductors near a large source "
        "are then too hot to be used again."
    ),
    clause="ICEA P-32-382",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       40 kA at service point, X/R 6
}
switchboard MSB "Main switchboard" {
    fed from    UT, 10 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    sccr        65 kA
}
panelboard LP1 "Press" {
    fed from    MSB, 60 ft, breaker 60 A, LSI, interrupting 65 kA
    place       indoor "Hall"
    sccr        65 kA
    equipment   "Press"         40 A, 480 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       40 kA at service point, X/R 6
}
switchboard MSB "Main switchboard" {
    fed from    UT, 10 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    sccr        65 kA
}
panelboard LP1 "Press" {
    fed from    MSB, 60 ft, fused switch 60 A, fuse 60 A class J
    place       indoor "Hall"
    sccr        65 kA
    equipment   "Press"         40 A, 480 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.feeders,
)
