"""Conductors off Table 9's 75 C: cool for the greatest fault, hot for drop and the smallest fault."""

from __future__ import annotations

from dataclasses import replace

from fedfrom.formulas.impedance import resistance_at
from fedfrom.passes.work import Work
from fedfrom.results.types import ConductorResult

TABLE_C = 75.0


def fault_temperature_c(work: Work) -> float:
    """Temperature of conductors for the greatest fault: `defaults { fault temperature … }`, else Table 9's 75 C."""
    stated = work.model.defaults.facts.amount("fault temperature")
    return stated.value if stated is not None else TABLE_C


def at_fault_temperature(work: Work) -> Work:
    """The work with every conductor's resistance at that temperature; the same work where it is that of the table."""
    degrees = fault_temperature_c(work)
    if degrees == TABLE_C:
        return work
    return replace(
        work,
        feeders={
            key: replace(feeder, conductors=_cooled(feeder.conductors, degrees)) for key, feeder in work.feeders.items()
        },
        ties={tag: replace(tie, conductors=_cooled(tie.conductors, degrees)) for tag, tie in work.ties.items()},
        circuits={
            tag: tuple(replace(row, conductors=_cooled(row.conductors, degrees)) for row in rows)
            for tag, rows in work.circuits.items()
        },
    )


def _cooled(wires: ConductorResult | None, degrees: float) -> ConductorResult | None:
    """Conductors at a temperature; a stated impedance stands as its maker gives it."""
    if wires is None or wires.r_ohm_per_kft is None or "impedance" in wires.origins:
        return wires
    return replace(wires, r_ohm_per_kft=resistance_at(wires.r_ohm_per_kft, degrees, wires.material))
