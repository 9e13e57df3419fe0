"""Conductors off Table 9's 75 C: cool for the greatest fault, hot for drop and the smallest fault."""

from __future__ import annotations

from dataclasses import replace

from fedfrom.formulas.impedance import ZERO_RESISTANCE_C, resistance_at
from fedfrom.passes.practice import assumption
from fedfrom.passes.work import Work
from fedfrom.results.derivation import Step
from fedfrom.results.types import ConductorResult

TABLE_C = 75.0
CORRECTION_CLAUSE = "Chapter 9, Table 8, Note 2"


def temperature_note(degrees: float) -> str:
    """What the basis of a fault current says of the conductors' temperature."""
    return f"conductors at {degrees:g} C" + (" (Table 9)" if degrees == TABLE_C else "")


def fault_temperature_c(work: Work) -> float:
    """Temperature of conductors for the greatest fault: `defaults { fault temperature … }`, else that of practice."""
    stated = work.model.defaults.facts.amount("fault temperature")
    return stated.value if stated is not None else assumption(work.edition, "greatest_fault_c")


def at_fault_temperature(work: Work) -> Work:
    """The work with every conductor's resistance at that temperature; the same work where it is that of the table."""
    degrees = fault_temperature_c(work)
    if degrees == TABLE_C:
        return work
    return replace(
        work,
        feeders={
            key: replace(feeder, conductors=_at(feeder.conductors, degrees)) for key, feeder in work.feeders.items()
        },
        ties={tag: replace(tie, conductors=_at(tie.conductors, degrees)) for tag, tie in work.ties.items()},
        circuits={
            tag: tuple(replace(row, conductors=_at(row.conductors, degrees)) for row in rows)
            for tag, rows in work.circuits.items()
        },
    )


def _at(wires: ConductorResult | None, degrees: float) -> ConductorResult | None:
    if wires is None or wires.r_ohm_per_kft is None or not corrected(wires, degrees):
        return wires
    return replace(wires, r_ohm_per_kft=resistance_at(wires.r_ohm_per_kft, degrees, wires.material))


def corrected(wires: ConductorResult, degrees: float) -> bool:
    """Whether the resistance of these conductors is another at this temperature; a stated impedance stands as it is."""
    return degrees != TABLE_C and "impedance" not in wires.origins


def correction_step(wires: ConductorResult, degrees: float) -> Step | None:
    """The line that takes Table 9's resistance to a temperature; None where it stands as it is."""
    if wires.r_ohm_per_kft is None or not corrected(wires, degrees):
        return None
    zero = ZERO_RESISTANCE_C[wires.material]
    found = resistance_at(wires.r_ohm_per_kft, degrees, wires.material)
    return Step(
        f"R at {degrees:g} C = R75 ({zero:g} + {degrees:g}) / ({zero:g} + 75), {wires.material}",
        f"{wires.r_ohm_per_kft:g} x {zero + degrees:g} / {zero + 75:g}",
        f"{found:.6g} ohm per 1000 ft",
        CORRECTION_CLAUSE,
    )
