"""Impedance of a transformer of the project: as written, or the typical value of its size."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.formulas import impedance
from fedfrom.model.fact_reading import amount, option_amount, ratio
from fedfrom.model.items import Fact, Item, Origin
from fedfrom.passes.practice import assumption, typical_impedance
from fedfrom.quantity import Dimension, Quantity, VoltageSystem
from fedfrom.tables import Edition


@dataclass(frozen=True, slots=True)
class TransformerImpedance:
    """`percent` as written or typical; `fault_percent` what a fault study takes (tolerance off unless nameplate).

    `half`: (percent, X/R) of one half of a center-tapped winding on the full rating, where the nameplate gives it.
    """

    percent: float
    x_over_r: float
    origin: Origin
    ratio_origin: Origin
    fault_percent: float
    basis: str
    half: tuple[float, float] | None = None

    def half_loop(self, kva: float, secondary: VoltageSystem) -> complex | None:
        """Loop of one half winding in ohm, None where the nameplate does not give it."""
        return stated_half_winding(self.half, kva * 1000, secondary)

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
    stated = option_amount(fact, "tolerance", Dimension.PERCENT)
    nameplate = written is not None and fact is not None and not fact.assumed
    tolerance = 0.0 if nameplate else assumption(edition, "transformer_tolerance_pct")
    if stated is not None:
        tolerance = stated
    if nameplate:
        basis = f"{percent:g} % as written" + (f", less {tolerance:g} % tolerance" if tolerance else "")
    elif written is not None:
        basis = f"{percent:g} % assumed, less {tolerance:g} % tolerance"
    else:
        row = f"{typical.row}; an estimate until the nameplate is known" if typical else ""
        basis = f"{percent:g} % typical ({row}), less {tolerance:g} % tolerance"
    origin = Origin.WRITTEN if written is not None else Origin.CHOSEN
    ratio_origin = Origin.WRITTEN if written_ratio is not None else Origin.CHOSEN
    used = percent * (1 - tolerance / 100)
    return TransformerImpedance(percent, x_over_r, origin, ratio_origin, used, basis, written_half(fact, x_over_r))


def written_half(fact: Fact | None, x_over_r: float) -> tuple[float, float] | None:
    """(percent, X/R) written as `half winding`; the whole winding's X/R where it gives none."""
    percent = option_amount(fact, "half winding", Dimension.PERCENT)
    if fact is None or percent is None or percent <= 0:
        return None
    own = fact.options["half winding"].get("ratio")
    return percent, float(own) if isinstance(own, Quantity) else x_over_r


def stated_half_winding(half: tuple[float, float] | None, rating_va: float, level: VoltageSystem) -> complex | None:
    """Loop of one half winding in ohm at its own volts, from its percent on the full rating."""
    if half is None or level.line_to_neutral_v <= 0:
        return None
    return impedance.from_magnitude(half[0] / 100 * level.line_to_neutral_v**2 / rating_va, half[1])
