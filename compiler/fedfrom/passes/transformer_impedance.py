"""Impedance of a transformer of the project: as written, or the typical value of its size."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.formulas import impedance
from fedfrom.model.fact_reading import amount, ratio
from fedfrom.model.items import Item, Origin
from fedfrom.passes.practice import assumption, typical_impedance
from fedfrom.quantity import Dimension, VoltageSystem
from fedfrom.tables import Edition


@dataclass(frozen=True, slots=True)
class TransformerImpedance:
    """`percent` as written or typical; `fault_percent` what a fault study takes (tolerance off unless nameplate)."""

    percent: float
    x_over_r: float
    origin: Origin
    ratio_origin: Origin
    fault_percent: float
    basis: str

    def at_secondary(self, kva: float, secondary: VoltageSystem) -> complex:
        """Ohm to neutral at the secondary (single-phase: half the winding), for a fault study."""
        return impedance.transformer(
            self.fault_percent, kva * 1000, secondary.line_to_line_v, self.x_over_r, secondary.phases or 1
        )


def transformer_impedance(
    edition: Edition, item: Item, kva: float, secondary: VoltageSystem
) -> TransformerImpedance | None:
    """The impedance of a transformer, None where nothing is written and no typical row exists.

    A written %Z is taken as the nameplate's, so no tolerance is taken off; one that is `assumed`, and a typical one,
    may be low by the manufacturing tolerance, which raises the fault.
    """
    phases = secondary.phases or 1
    fact = item.facts.first("impedance")
    written, written_ratio = amount(fact, Dimension.PERCENT), ratio(fact)
    typical = typical_impedance(edition, kva, phases)
    percent = written if written is not None else (typical.percent if typical else None)
    x_over_r = written_ratio if written_ratio is not None else (typical.x_over_r if typical else None)
    if percent is None or x_over_r is None or percent <= 0:
        return None
    nameplate = written is not None and fact is not None and not fact.assumed
    tolerance = 0.0 if nameplate else assumption(edition, "transformer_tolerance_pct")
    if nameplate:
        basis = f"{percent:g} % as written"
    elif written is not None:
        basis = f"{percent:g} % assumed, less {tolerance:g} % tolerance"
    else:
        row = f"{typical.row}; an estimate until the nameplate is known" if typical else ""
        basis = f"{percent:g} % typical ({row}), less {tolerance:g} % tolerance"
    origin = Origin.WRITTEN if written is not None else Origin.CHOSEN
    ratio_origin = Origin.WRITTEN if written_ratio is not None else Origin.CHOSEN
    return TransformerImpedance(percent, x_over_r, origin, ratio_origin, percent * (1 - tolerance / 100), basis)
