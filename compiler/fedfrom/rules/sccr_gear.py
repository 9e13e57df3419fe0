"""more fault current is available than gear is rated to withstand."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.results.notation import kiloamperes_text
from fedfrom.results.types import GearResult
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked


def check(design: Design) -> Iterator[Finding]:
    for tag, gear in design.results.gear.items():
        if gear.status is Status.DEMOLISH or (gear.system is not None and gear.system.is_dc):
            continue  # direct current is the finding of dc-rated
        if gear.sccr_basis.startswith("limited by"):
            continue  # a weak device is the finding of interrupting-rating
        clause = design.edition.clause("110.10")
        if gear.sccr_a is None:
            yield _not_established(tag, gear, clause)
        elif gear.fault_a is None:
            yield _no_fault(tag, gear, clause)
        elif gear.sccr_a < gear.fault_a:
            written = design.model.items[tag].facts.first("sccr")
            yield breach(
                "sccr-gear",
                tag,
                f"{tag} is rated {kiloamperes_text(gear.sccr_a)} ({gear.sccr_basis}), "
                f"but {kiloamperes_text(gear.fault_a)} is available",
                written.span if written is not None else gear.span,
                clause,
                (f"state: {gear.fault_state}",),
                "leave `sccr` out and a sufficient rating is chosen; or lower the fault current",
            )


def _no_fault(tag: str, gear: GearResult, clause: str) -> Finding:
    how = f"state the `fault` of the source, and every length and conductor up to {tag}"
    return not_checked("sccr-gear", tag, f"the available fault current at {tag}", gear.span, clause, how)


def _not_established(tag: str, gear: GearResult, clause: str) -> Finding:
    if gear.fault_a is None:
        return _no_fault(tag, gear, clause)
    if gear.sccr_basis == "no usual rating suffices":
        message = f"{tag}: no usual rating is as high as the {kiloamperes_text(gear.fault_a)} available"
        advice = "lower the fault current, or state the `sccr` offered"
        return breach("sccr-gear", tag, message, gear.span, clause, advice=advice)
    return not_checked("sccr-gear", tag, f"the `sccr` on the label of {tag}", gear.span, clause)


RULE = Rule(
    id="sccr-gear",
    severity=Severity.ERROR,
    title="more fault current is available than gear is rated to withstand",
    why="Bus and enclosure of gear must hold until the device ahead has opened.",
    clause="110.10",
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
    sccr        5 kA
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
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
    sccr        10 kA
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
""",
    check=check,
    life_safety=True,
    applies=reach.gear,
)
