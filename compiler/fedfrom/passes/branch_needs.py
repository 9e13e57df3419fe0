"""What the load of a branch circuit asks of its device and conductors, by the article that governs it."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.formulas import motors
from fedfrom.formulas.overcurrent import device_minimum, next_standard_rating, standard_rating_not_over
from fedfrom.model.fact_reading import amount, words
from fedfrom.model.items import Fact, Load
from fedfrom.passes.connected import DWELLING_LIGHTING
from fedfrom.passes.load_duty import motor_duty_factor
from fedfrom.passes.load_kinds import circuit_choice
from fedfrom.passes.sizing_devices import FUSED_KINDS
from fedfrom.quantity import Dimension, Quantity
from fedfrom.results.derivation import Step
from fedfrom.results.notation import amperes_text
from fedfrom.results.types import CircuitResult
from fedfrom.tables import Edition, lookup

COMPRESSOR_KINDS = frozenset({"hvac", "cooling"})
RANGE_VA = 8750.0  # NEC 210.19(C): ranges of 8-3/4 kW and more
RANGE_DEVICE_A = 40.0
COMPRESSOR_CEILING_PCT = 225.0  # NEC 440.22(A): where the compressor would not start on 175 %


@dataclass(frozen=True, slots=True)
class BranchNeed:
    """`device_a`: the rating to choose (already standard), None where it is not known; `device_limit_a` the greatest
    that the governing article allows, None for general loads. `terminal_a` and `carried_a` as in `ConductorRequest`.
    `ground_device_a`: what the equipment grounding conductor is sized by, where that is not the device itself.
    `missing`: the fact that is needed where something is None.
    """

    device_a: float | None
    device_limit_a: float | None
    terminal_a: float | None
    carried_a: float | None
    device_may_exceed: bool = False
    next_size_up: bool = True
    steps: tuple[Step, ...] = ()
    clause: str = ""
    missing: str = ""
    ground_device_a: float | None = None


def branch_need(edition: Edition, row: CircuitResult, load: Load | None, volts: float, phases: int) -> BranchNeed:
    """The need of one branch circuit; `volts` between its conductors, `phases` 1 or 3."""
    fused = load is not None and load.device is not None and load.device.kind in FUSED_KINDS
    if row.motor_hp is not None or row.table_a is not None:
        return _motor(edition, row, load, volts, phases, fused)
    if row.mca_a is not None:
        return _nameplate(edition, row, fused)
    kinds = kinds_of(load, row)
    if kinds == {"welder"} and load is not None:
        return _welder(edition, row, load, volts, phases, fused)
    if kinds == {"x-ray"} and load is not None:
        return _x_ray(edition, load, volts, phases, fused)
    if row.load_a is None:
        return BranchNeed(None, None, None, None, missing="the load")
    if kinds and kinds <= COMPRESSOR_KINDS:
        return _compressor(edition, row.load_a, fused)
    return _general(edition, row, kinds, fused)


def kinds_of(load: Load | None, row: CircuitResult) -> frozenset[str]:
    """The load kinds on a circuit."""
    if load is None:
        return frozenset({row.category} if row.category else ())
    return frozenset(part.kind for part in load.parts) if load.parts else frozenset({load.kind})


def motor_type(load: Load | None, phases: int) -> str:
    """The row of the device table for a motor (NEC Table 430.52)."""
    said = " ".join(words(load.facts.first("design")) if load else ()).lower()
    if "wound" in said:
        return "wound_rotor"
    if "synchronous" in said:
        return "synchronous"
    return "single_phase" if phases == 1 else "polyphase_other_than_wound_rotor"


def motor_device_kind(load: Load | None) -> str:
    """The column of the device table for what protects a motor."""
    device = load.device if load else None
    if device is not None and device.kind in FUSED_KINDS:
        return "nontime_delay_fuse" if "non-time-delay" in device.options else "dual_element_fuse"
    return "instantaneous_trip" if device is not None and "magnetic only" in device.options else "inverse_time_breaker"


def _motor(
    edition: Edition, row: CircuitResult, load: Load | None, volts: float, phases: int, fused: bool
) -> BranchNeed:
    current = row.table_a
    if current is None and row.motor_hp is not None and row.load_a is not None:
        current = lookup.motor_current(edition, row.motor_hp, volts, phases)
    if current is None:
        missing = f"a table current for {row.motor_hp or 0:g} hp at {volts:g} V"
        return BranchNeed(None, None, None, None, device_may_exceed=True, missing=missing)
    drive_a = amount(load.facts.first("drive"), Dimension.CURRENT) if load else None
    basis = drive_a or current
    share, clause = 1.25, "430.122(A)" if drive_a else "430.22"
    duty = motor_duty_factor(load, edition) if load is not None and not drive_a else None
    if duty is not None and load is not None:
        share, clause = duty, "430.22(E)"
        basis = amount(load.facts.first("nameplate"), Dimension.CURRENT) or current
    ampacity = motors.motor_conductor(basis, share)
    if motor_device_kind(load) == "instantaneous_trip":
        return _instantaneous(edition, load, phases, current, ampacity, edition.clause(clause))
    percent = lookup.motor_device_pct(edition, motor_type(load, phases), motor_device_kind(load))
    ratings = lookup.standard_ratings(edition, "fuse" if fused else "breaker")
    device = None if percent is None else motors.motor_device(current, percent, ratings)
    if device is not None:
        device = _not_below(device, ratings, 15.0)
    steps = (
        Step(f"I = {share:g} FLC", f"{share:g} x {basis:g} A", amperes_text(ampacity), edition.clause(clause)),
        Step(
            "OCPD = next standard rating at or above k FLC",
            f"{(percent or 0) / 100:g} x {current:g} A = {current * (percent or 0) / 100:g} A",
            amperes_text(device),
            edition.clause("430.52(C)(1)"),
        ),
    )
    return BranchNeed(device, device, ampacity, ampacity, True, steps=steps, clause=clause)


def _instantaneous(
    edition: Edition, load: Load | None, phases: int, current: float, ampacity: float, clause: str
) -> BranchNeed:
    """A breaker with an instantaneous trip only: its rating carries the motor, its trip is set by the table, and the
    ground is sized by the time-delay fuse that the table would give (430.52(C)(3), 430.110(A), 250.122(D)(2))."""
    ratings = lookup.standard_ratings(edition, "breaker")
    share = lookup.rule_value(edition, "motor_rules", "motor_disconnect") / 100
    device = next_standard_rating(max(share * current, 15.0), ratings)
    fuse_pct = lookup.motor_device_pct(edition, motor_type(load, phases), "dual_element_fuse")
    fuses = lookup.standard_ratings(edition, "fuse")
    ground = None if fuse_pct is None else motors.motor_device(current, fuse_pct, fuses)
    trip = instantaneous_trip_a(edition, load, phases, current)
    steps = (
        Step("I = 1.25 FLC", f"1.25 x {current:g} A", amperes_text(ampacity), clause),
        Step(
            f"rating of the breaker at least {share:g} FLC",
            f"{share:g} x {current:g} A",
            amperes_text(device),
            edition.clause("430.110(A)"),
        ),
        Step("its trip set not over k FLC", "Table 430.52", amperes_text(trip), edition.clause("430.52(C)(3)")),
    )
    return BranchNeed(device, None, ampacity, ampacity, True, steps=steps, clause="430.22", ground_device_a=ground)


def instantaneous_trip_a(edition: Edition, load: Load | None, phases: int, current: float) -> float | None:
    """The greatest setting in A of an instantaneous trip that alone protects a motor (NEC 430.52(C)(3))."""
    percent = lookup.motor_device_pct(edition, motor_type(load, phases), "instantaneous_trip")
    return None if percent is None else current * percent / 100


def _nameplate(edition: Edition, row: CircuitResult, fused: bool) -> BranchNeed:
    assert row.mca_a is not None
    ratings = lookup.standard_ratings(edition, "fuse" if fused else "breaker")
    device = None if row.mocp_a is None else standard_rating_not_over(row.mocp_a, ratings)
    steps = [Step("I = MCA", f"{row.mca_a:g} A on the nameplate", amperes_text(row.mca_a), edition.clause("440.35"))]
    if row.mocp_a is not None:
        steps.append(
            Step(
                "OCPD = standard rating not over the nameplate maximum",
                f"{row.mocp_a:g} A",
                amperes_text(device),
                edition.clause("440.22(C)"),
            )
        )
    missing = "" if device is not None else "the nameplate's greatest overcurrent device (mocp)"
    return BranchNeed(device, device, row.mca_a, row.mca_a, True, steps=tuple(steps), clause="440.35", missing=missing)


def _compressor(edition: Edition, load_a: float, fused: bool) -> BranchNeed:
    """Cooling without a nameplate: taken as one motor-compressor, the safe side for the conductors."""
    ratings = lookup.standard_ratings(edition, "fuse" if fused else "breaker")
    ampacity = motors.compressor_conductor(load_a)
    limit = motors.compressor_device(load_a, ratings)
    device = limit if limit is not None and limit >= load_a else next_standard_rating(ampacity, ratings)
    steps = (
        Step("I = 1.25 RLC", f"1.25 x {load_a:.1f} A", amperes_text(ampacity), edition.clause("440.32")),
        Step(
            "OCPD = standard rating not over 1.75 RLC",
            f"1.75 x {load_a:.1f} A",
            amperes_text(device),
            edition.clause("440.22(A)"),
        ),
    )
    ceiling = motors.compressor_device(load_a, ratings, COMPRESSOR_CEILING_PCT)
    limit = max((rating for rating in (device, ceiling) if rating is not None), default=None)
    return BranchNeed(device, limit, ampacity, ampacity, True, steps=steps, clause="440.32")


def _welder(edition: Edition, row: CircuitResult, load: Load, volts: float, phases: int, fused: bool) -> BranchNeed:
    primary = rated_primary(load, volts, phases)
    duty = duty_pct(load.facts.first("duty"))
    kind = welder_kind(load)
    if primary is None:
        return BranchNeed(None, None, None, None, True, missing="the rated primary current")
    multiplier = lookup.welder_multiplier(edition, kind, 100.0 if duty is None else duty)
    multiplier = 1.0 if multiplier is None else multiplier
    effective = motors.welder_current(primary, multiplier)
    resistance = kind == "resistance"
    ratings = lookup.standard_ratings(edition, "fuse" if fused else "breaker")
    limit = next_standard_rating(motors.welder_device_limit(primary, resistance), ratings)
    device = next_standard_rating(max(primary, 15.0), ratings)
    clause = "630.31" if resistance else "630.11(A)"
    device_clause = "630.32" if resistance else "630.12(A)"
    steps = (
        Step("I = k I1", f"{multiplier:g} x {primary:g} A", amperes_text(effective), edition.clause(clause)),
        Step("OCPD at least I1", f"{primary:g} A", amperes_text(device), "common practice, no source"),
        Step("OCPD not over the limit", amperes_text(limit), amperes_text(device), edition.clause(device_clause)),
    )
    return BranchNeed(device, limit, effective, effective, True, steps=steps, clause=clause)


def rated_primary(load: Load, volts: float, phases: int) -> float | None:
    """A welder's rated primary current in A: as written, or from its apparent power."""
    if load.amount.form == "a":
        return load.amount.quantity
    if load.amount.form in ("va", "w") and load.amount.quantity is not None:
        return load.amount.quantity / (volts * (3**0.5 if phases == 3 else 1.0))
    return None


def welder_kind(load: Load) -> str:
    """The row of the welder table for a load line."""
    said = " ".join(words(load.facts.first("welder kind"))).lower()
    if "resistance" in said:
        return "resistance"
    return "arc_with_motor_generator" if "generator" in said else "arc_without_motor_generator"


def duty_pct(fact: Fact | None) -> float | None:
    """The duty cycle of a `duty` fact in percent, or None."""
    if fact is None:
        return None
    for value in fact.values.values():
        if isinstance(value, Quantity) and value.dimension is Dimension.PERCENT:
            return float(value)
    return None


def _x_ray(edition: Edition, load: Load, volts: float, phases: int, fused: bool) -> BranchNeed:
    momentary, longtime = load.amount.momentary_va, load.amount.longtime_va
    if momentary is None and longtime is None:
        return BranchNeed(None, None, None, None, missing="the momentary and long-time rating")
    divisor = volts * (3**0.5 if phases == 3 else 1.0)
    needed = max(0.5 * (momentary or 0.0), longtime or 0.0) / divisor
    ratings = lookup.standard_ratings(edition, "fuse" if fused else "breaker")
    device = next_standard_rating(max(needed, 15.0), ratings)
    steps = (
        Step(
            "I = larger of 0.5 momentary and long-time",
            f"0.5 x {(momentary or 0) / 1000:g} kVA, {(longtime or 0) / 1000:g} kVA",
            amperes_text(needed),
            edition.clause("517.73(A)"),
        ),
    )
    return BranchNeed(device, None, needed, needed, steps=steps, clause="517.73(A)")


def _general(edition: Edition, row: CircuitResult, kinds: frozenset[str], fused: bool) -> BranchNeed:
    assert row.load_a is not None
    load = row.load_a
    continuous = (row.continuous_a if row.continuous_a is not None else load) if row.continuous else 0.0
    needed = device_minimum(load - continuous, continuous)
    ratings = lookup.standard_ratings(edition, "fuse" if fused else "breaker")
    least = _least_device(edition, row, kinds)
    device = next_standard_rating(max(needed, least), ratings)
    mixed = 0.0 < continuous < load - 0.005
    numbers = f"{load:.1f} A" if not continuous else f"1.25 x {load:.1f} A"
    if mixed:
        numbers = f"{load - continuous:.1f} A + 1.25 x {continuous:.1f} A"
    steps: tuple[Step, ...] = (
        Step(
            "I = noncontinuous + 1.25 continuous" if mixed else "I = 1.25 continuous" if continuous else "I = load",
            numbers,
            amperes_text(needed),
            edition.clause("210.19(A)"),
        ),
        Step(
            "OCPD at least I",
            amperes_text(needed),
            amperes_text(next_standard_rating(needed, ratings)),
            edition.clause("210.20(A)"),
        ),
    )
    if least > needed:
        reason = edition.clause("210.19(C)") if kinds == {"range"} else "common practice, no source"
        steps = (*steps, Step("OCPD not below the usual smallest", f"{least:g} A", amperes_text(device), reason))
    return BranchNeed(
        device, None, needed, load, next_size_up="receptacles" not in kinds, steps=steps, clause="210.20(A)"
    )


def _least_device(edition: Edition, row: CircuitResult, kinds: frozenset[str]) -> float:
    if kinds == {"range"} and (row.connected_va or 0.0) >= RANGE_VA:
        return RANGE_DEVICE_A
    if row.category == DWELLING_LIGHTING:
        return circuit_choice(edition, "dwelling_lighting_circuit")
    return float(lookup.choice(edition, "smallest_branch_device"))


def _not_below(device: float, ratings: tuple[float, ...], least: float) -> float:
    return device if device >= least else (next_standard_rating(least, ratings) or device)
