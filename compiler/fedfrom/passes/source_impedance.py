"""What stands behind each source: a utility's stated fault, its transformer and primary, or a generator's reactance."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fedfrom.formulas import impedance
from fedfrom.graph.network import Node
from fedfrom.model.fact_reading import amount, option_amount, ratio, words
from fedfrom.model.items import Fact
from fedfrom.passes.practice import assumption, typical_impedance
from fedfrom.passes.transformer_impedance import stated_half_winding, written_half
from fedfrom.quantity import Dimension, Quantity, VoltageSystem
from fedfrom.tables import Edition


@dataclass(frozen=True, slots=True)
class SourceImpedance:
    """A source's impedance at its terminals, ohm to neutral; `basis` in words, `needs` what is missing ("" if known).

    `at_service_point`: the figure is stated where the utility's conductors end. `assumed`: some part is not a stated
    fact. `notes`: the assumptions, one sentence each. `stated_a` and `computed_a`: the two utility figures, A.
    `reactance`: of a generator, percent on its rating in VA.
    """

    z1: complex | None
    z0: complex | None
    basis: str
    needs: str = ""
    assumed: bool = False
    at_service_point: bool = False
    notes: tuple[str, ...] = ()
    stated_a: float | None = None
    computed_a: float | None = None
    ratio_assumed: bool = False
    reactance: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class _Figure:
    """One way to the utility's impedance."""

    z1: complex
    basis: str
    assumed: bool
    ratio_assumed: bool
    at_service_point: bool
    stated: bool
    winding: complex | None = None
    half: complex | None = None


def source_impedance(edition: Edition, node: Node) -> SourceImpedance:
    """The impedance of a source node; `needs` says what is missing where it cannot be told."""
    system = node.system
    if system is None:
        return SourceImpedance(None, None, "", "the voltage of the source")
    if system.is_dc:
        return SourceImpedance(None, None, "", "a method for DC faults, which is not covered")
    kind = node.item.kind
    if kind == "utility":
        return _utility(edition, node, system)
    if kind in ("pv", "battery"):
        return _inverter(edition, node, system)
    return _generator(edition, node, system)


def _utility(edition: Edition, node: Node, system: VoltageSystem) -> SourceImpedance:
    stated = _stated_at_service(edition, node, system)
    computed = _through_transformer(edition, node, system)
    figures = [figure for figure in (stated, computed) if figure is not None]
    if not figures:
        return SourceImpedance(None, None, "", "the utility's available fault current")
    used = min(figures, key=lambda figure: abs(figure.z1))
    basis = used.basis
    if stated is not None and computed is not None:
        other = computed if used is stated else stated
        basis += f"; the other figure given ({other.basis}) is smaller and is not used"
    z0, notes = _service_z0(edition, node, system, used)
    return SourceImpedance(
        used.z1,
        z0,
        basis,
        assumed=used.assumed,
        at_service_point=used.at_service_point,
        notes=notes,
        stated_a=_amperes(stated, system),
        computed_a=_amperes(computed, system),
        ratio_assumed=used.ratio_assumed,
    )


def _service_z0(
    edition: Edition, node: Node, system: VoltageSystem, used: _Figure
) -> tuple[complex | None, tuple[str, ...]]:
    """Zero-sequence impedance at the service: from the line-to-ground figure of the letter, else as assumed."""
    if not _grounded(system):
        return None, ()
    fact = node.item.facts.first("fault")
    stated = _option_current(fact, "line-to-ground")
    if stated and used.stated and system.phases == 3:
        # |2 Z1 + Z0| = 3 E / I, taken at the angle of Z1.
        volts = system.line_to_line_v / math.sqrt(3) if system.kind == "wye" else system.line_to_neutral_v
        whole = 3.0 * volts / stated
        size = whole - 2.0 * abs(used.z1)
        if size > 0:
            return used.z1 / abs(used.z1) * size, (f"line-to-ground at the service {stated / 1000:g} kA as stated",)
    if system.kind == "high-leg delta":
        winding = used.winding if used.winding is not None else used.z1
        z0 = impedance.high_leg_zero_sequence(used.z1 - winding, winding, used.half)
        return z0, ("closed bank of three equal windings with a middle tap: line-to-neutral fault from 1.5 R, 1.2 X",)
    if used.winding is not None and system.kind == "single-phase":
        z0 = impedance.center_tap_zero_sequence(used.z1 - used.winding, used.winding, used.half)
        half = "1.5 R, 1.2 X (from memory)" if used.half is None else "the stated impedance"
        return z0, (f"line-to-neutral fault of the utility transformer from a half winding of {half}",)
    if used.winding is not None:
        multiple = assumption(edition, "transformer_z0_multiple")
        return used.winding * multiple, ("utility transformer delta-wye, Z0 = Z1 of the transformer alone",)
    multiple = assumption(edition, "source_z0_multiple")
    if system.phases != 3:
        return used.z1, ("the stated figure taken for both line-to-line and line-to-neutral faults",)
    return used.z1 * multiple, ("line-to-ground fault at the service taken equal to the three-phase one (Z0 = Z1)",)


def _option_current(fact: Fact | None, option: str) -> float | None:
    values = fact.options.get(option, {}) if fact is not None else {}
    return next((float(value) for value in values.values() if isinstance(value, Quantity)), None)


def _amperes(figure: _Figure | None, system: VoltageSystem) -> float | None:
    if figure is None:
        return None
    divisor = math.sqrt(3) if system.phases == 3 else 2.0
    return system.line_to_line_v / (divisor * abs(figure.z1))


def _stated_at_service(edition: Edition, node: Node, system: VoltageSystem) -> _Figure | None:
    fact = node.item.facts.first("fault")
    fault = _stated_current(fact, system)
    if fact is None or fault is None or fault <= 0:
        return None
    where = "at the utility transformer" if "transformer" in " ".join(words(fact)) else "at the service point"
    written = ratio(fact)
    used = written if written is not None else assumption(edition, "source_x_over_r")
    z1 = impedance.source_from_current(fault, system.line_to_line_v, used, system.phases or 1)
    kind = "assumed" if fact.assumed else "stated"
    basis = f"{fault / 1000:g} kA {where} ({kind}), X/R {used:g}{'' if written is not None else ' (assumed)'}"
    return _Figure(z1, basis, fact.assumed or written is None, written is None, where == "at the service point", True)


def _stated_current(fact: Fact | None, system: VoltageSystem) -> float | None:
    """The stated fault in A; a level in VA is turned into one at the service voltage."""
    if fact is None:
        return None
    for value in fact.values.values():
        if isinstance(value, Quantity) and value.dimension is Dimension.CURRENT:
            return float(value)
        if isinstance(value, Quantity) and value.dimension is Dimension.APPARENT:
            factor = math.sqrt(3) if system.phases == 3 else 1.0
            return float(value) / (factor * system.line_to_line_v)
    return None


def _through_transformer(edition: Edition, node: Node, system: VoltageSystem) -> _Figure | None:
    fact = node.item.facts.first("transformer")
    rating = amount(fact, Dimension.APPARENT)
    if fact is None or rating is None or rating <= 0:
        return None
    phases = system.phases or 1
    typical = typical_impedance(edition, rating / 1000, phases, utility=True)
    percent = option_amount(fact, "impedance", Dimension.PERCENT)
    written = ratio(fact)
    if typical is None:
        return None
    used_percent = percent if percent is not None else typical.percent
    used_ratio = written if written is not None else typical.x_over_r
    tolerance = assumption(edition, "transformer_tolerance_pct") if percent is None or fact.assumed else 0.0
    stated_tolerance = option_amount(fact, "tolerance", Dimension.PERCENT)
    tolerance = tolerance if stated_tolerance is None else stated_tolerance
    z = impedance.transformer(used_percent * (1 - tolerance / 100), rating, system.line_to_line_v, used_ratio, phases)
    primary, primary_text, primary_assumed = _primary(edition, node, system)
    text = f"transformer {rating / 1000:g} kVA, {used_percent:g} %{'' if percent is not None else ' (typical)'}"
    if tolerance:
        text += f" less {tolerance:g} % tolerance"
    text += f", X/R {used_ratio:.3g}{'' if written is not None else ' (typical)'}, {primary_text}"
    assumed = percent is None or fact.assumed or primary_assumed
    half = stated_half_winding(written_half(fact, used_ratio), rating, system)
    return _Figure(primary + z, text, assumed, written is None, False, False, z, half)


def _primary(edition: Edition, node: Node, system: VoltageSystem) -> tuple[complex, str, bool]:
    """Primary source seen at the service voltage, in words, and whether it is assumed. No figure: an unlimited one."""
    fact = node.item.facts.first("primary")
    level = amount(fact, Dimension.APPARENT)
    current, volts = amount(fact, Dimension.CURRENT), amount(fact, Dimension.VOLTAGE)
    if level is None and current is not None and volts is not None:
        level = math.sqrt(3) * current * volts
    if fact is None or level is None or level <= 0:
        return 0j, "on an unlimited primary source (nothing stated: the greatest fault that can be)", True
    written = ratio(fact)
    used = written if written is not None else assumption(edition, "primary_x_over_r")
    note = "" if written is not None else " (assumed)"
    z = impedance.source_from_mva(level, system.line_to_line_v, used)
    # Single phase: half of a loop of two primary conductors is one of them.
    text = f"primary {level / 1e6:.4g} MVA, X/R {used:g}{note}{', assumed' if fact.assumed else ''}"
    return z, text, fact.assumed or written is None


def _generator(edition: Edition, node: Node, system: VoltageSystem) -> SourceImpedance:
    rating = generator_va(edition, node.item.facts.first("rating"))
    reactance = node.item.facts.first("subtransient")
    percent = _percent(reactance)
    if rating is None:
        return SourceImpedance(None, None, "", "the rating of the generator")
    if reactance is None or percent is None or percent <= 0:
        return SourceImpedance(None, None, "", "the subtransient reactance of the generator")
    written = ratio(reactance)
    used = written if written is not None else assumption(edition, "generator_x_over_r")
    z1 = impedance.rotating_machine(percent, rating, system.line_to_line_v, used)
    if system.phases != 3:
        z1 /= 2.0
    basis = f"subtransient reactance {percent:g} % on {rating / 1000:g} kVA, X/R {used:g}"
    z0, notes = _generator_z0(edition, node, system, z1, percent)
    if written is None:
        notes = (f"generator X/R {used:g} assumed", *notes)
    return SourceImpedance(z1, z0, basis, assumed=reactance.assumed, notes=notes, reactance=(percent, rating))


def _generator_z0(
    edition: Edition, node: Node, system: VoltageSystem, z1: complex, percent: float
) -> tuple[complex | None, tuple[str, ...]]:
    if not _grounded(system):
        return None, ()
    written = _percent(node.item.facts.first("zero sequence"))
    if written is not None:
        return z1 * (written / percent), (f"generator zero-sequence reactance {written:g} % as written",)
    multiple = assumption(edition, "generator_z0_multiple")
    return z1 * multiple, (f"generator Z0 = {multiple:g} Z1 assumed",)


def _percent(fact: Fact | None) -> float | None:
    """A reactance in percent, also where it is written per unit (0.12)."""
    if fact is None:
        return None
    percent = amount(fact, Dimension.PERCENT)
    if percent is not None:
        return percent if percent > 0 else None
    for value in fact.values.values():
        if isinstance(value, Quantity) and value.dimension is Dimension.NUMBER and value.value > 0:
            return float(value) * 100.0
    return None


def generator_va(edition: Edition, rating: Fact | None) -> float | None:
    """Rating of a generator or inverter in VA: as written, or kW over the usual power factor, or None."""
    apparent = amount(rating, Dimension.APPARENT)
    if apparent is not None:
        return apparent
    real = amount(rating, Dimension.REAL)
    if real is None:
        return None
    written = rating.values.get("factor") if rating is not None else None
    factor = float(written) if isinstance(written, Quantity) else assumption(edition, "generator_power_factor")
    return real / factor


def _inverter(edition: Edition, node: Node, system: VoltageSystem) -> SourceImpedance:
    fact = node.item.facts.first("rating")
    rating = amount(fact, Dimension.APPARENT) or amount(fact, Dimension.REAL)
    if rating is None or rating <= 0:
        return SourceImpedance(None, None, "", "the rating of the inverter")
    multiple = assumption(edition, "inverter_multiple")
    factor = math.sqrt(3) if system.phases == 3 else 1.0
    current = multiple * rating / (factor * system.line_to_line_v)
    z1 = impedance.source_from_current(
        current, system.line_to_line_v, assumption(edition, "inverter_x_over_r"), system.phases or 1
    )
    return SourceImpedance(z1, None, f"inverter, {multiple:g} times rated current", assumed=True)


def _grounded(system: VoltageSystem) -> bool:
    return system.grounding == "solid"
