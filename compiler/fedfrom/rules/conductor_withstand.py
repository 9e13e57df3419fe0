"""A fault may spoil the insulation of a feeder before its device opens."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.formulas.conductor_withstand import withstand_seconds
from fedfrom.results.notation import kiloamperes_text, size_text
from fedfrom.results.types import ConductorResult, FeederResult
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import listing
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach
from fedfrom.tables import lookup

DELAY_S = 0.5  # the longest short-time delay of a breaker, 30 cycles: common practice, no source


def check(design: Design) -> Iterator[Finding]:
    """One finding for all: the setting of the delays is one decision, of the study."""
    short = []
    for feeder in design.results.feeders.values():
        device, conductors = feeder.device, feeder.conductors
        if device is None or conductors is None or feeder.status.is_gone or conductors.by or device.fuse_a is not None:
            continue
        if device.fault_a is None or "S" not in device.functions or "current-limiting" in device.options:
            continue
        stands = _stands(design, conductors, device.fault_a)
        if stands is not None and stands < DELAY_S:
            short.append((stands, feeder))
    if not short:
        return
    worst = sorted(short, key=lambda entry: entry[0])[:SHOWN]
    yield breach(
        "conductor-withstand",
        short[0][1].id,
        f"{listing([feeder.id for _, feeder in short])}: the conductors do not stand the fault for {DELAY_S:g} s",
        short[0][1].span,
        design.edition.clause("ICEA P-32-382"),
        (*(_line(stands, feeder) for stands, feeder in worst), "heat taken up, none lost; the study sets the delays"),
        "take no delay on these feeders, current-limiting fuses, or larger conductors",
        Severity.NOTE,
    )


SHOWN = 5


def _line(stands: float, feeder: FeederResult) -> str:
    size = size_text(feeder.conductors.phase) if feeder.conductors is not None else ""
    fault = feeder.device.fault_a if feeder.device is not None else None
    return f"{feeder.id}: {size} stands {kiloamperes_text(fault or 0.0)} for {stands:.3f} s"


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
