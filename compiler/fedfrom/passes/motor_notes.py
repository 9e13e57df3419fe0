"""What a motor circuit needs beyond its device and conductors: the overload setting, the setting of an
instantaneous trip, the leads of a wye-delta start."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.formulas.motors import motor_conductor, overload_setting
from fedfrom.model.fact_reading import amount, words
from fedfrom.model.items import Load, Origin
from fedfrom.passes.branch_needs import instantaneous_trip_a, motor_device_kind
from fedfrom.quantity import Dimension
from fedfrom.results.derivation import Derivation, Input, Step
from fedfrom.results.notation import amperes_text
from fedfrom.results.types import CircuitResult
from fedfrom.tables import Edition, lookup

HIGH_SERVICE_FACTOR = 1.15


def motor_notes(edition: Edition, row: CircuitResult, load: Load | None) -> Iterator[tuple[str, Derivation]]:
    """A remark for the schedule and its calculation, for each that the load line gives reason for."""
    if load is None or row.table_a is None or load.kind != "motor":
        return
    nameplate = load.facts.first("nameplate")
    nameplate_a = amount(nameplate, Dimension.CURRENT)
    if nameplate_a is not None:
        factor = amount(load.facts.first("service factor"), Dimension.NUMBER)
        yield _overload(edition, row, load, nameplate_a, factor)
    if motor_device_kind(load) == "instantaneous_trip":
        yield _trip(edition, row, load, row.table_a)
    if "wye-delta" in " ".join(words(load.facts.first("starter"))):
        yield _leads(edition, row, load, row.table_a)


def _overload(
    edition: Edition, row: CircuitResult, load: Load, nameplate_a: float, factor: float | None
) -> tuple[str, Derivation]:
    """430.32(A)(1): on the nameplate; where no service factor is written, the lower share."""
    high = factor is not None and factor >= HIGH_SERVICE_FACTOR
    percent = lookup.rule_value(edition, "motor_rules", "overload_service_factor_1_15" if high else "overload_other")
    setting = overload_setting(nameplate_a, percent)
    said = f"service factor {factor:g}" if factor is not None else "no service factor written"
    note = f"overload not over {amperes_text(setting)}"
    step = Step(
        f"I overload = {percent / 100:g} I nameplate, {said}",
        f"{percent / 100:g} x {nameplate_a:g} A",
        amperes_text(setting),
        edition.clause("430.32(A)(1)"),
    )
    entry = Input("I", "nameplate current", amperes_text(nameplate_a), Origin.WRITTEN, load.span)
    return note, Derivation(
        subject=f"{row.key}.overload",
        title=f"Greatest overload setting of {row.tag or row.name or row.key}",
        value=amperes_text(setting),
        origin=Origin.CHOSEN,
        inputs=(entry,),
        steps=(step,),
        clause=edition.clause("430.32(A)(1)"),
        span=load.span,
    )


def _trip(edition: Edition, row: CircuitResult, load: Load, full_load_a: float) -> tuple[str, Derivation]:
    """430.52(C)(3): a breaker without a thermal trip protects by the setting of its instantaneous one."""
    setting = instantaneous_trip_a(edition, load, 3 if row.poles >= 3 else 1, full_load_a)
    clause = edition.clause("430.52(C)(3)")
    numbers = "" if setting is None else f"{setting / full_load_a:g} x {full_load_a:g} A"
    return f"instantaneous trip set not over {amperes_text(setting)}", Derivation(
        subject=f"{row.key}.trip",
        title=f"Greatest setting of the instantaneous trip of {row.tag or row.name or row.key}",
        value=amperes_text(setting),
        origin=Origin.CHOSEN,
        inputs=(Input("FLC", "full-load current", amperes_text(full_load_a), Origin.CHOSEN, load.span),),
        steps=(Step("I trip = k FLC", numbers, amperes_text(setting), clause),),
        clause=clause,
        span=load.span,
    )


def _leads(edition: Edition, row: CircuitResult, load: Load, full_load_a: float) -> tuple[str, Derivation]:
    """430.22(C): the six conductors between a wye-start, delta-run controller and its motor."""
    share = lookup.rule_value(edition, "motor_rules", "wye_start_delta_run_load_side") / 100
    least = motor_conductor(full_load_a, share)
    step = Step(
        f"I leads = {share:g} FLC", f"{share:g} x {full_load_a:g} A", amperes_text(least), edition.clause("430.22(C)")
    )
    return f"six leads to the motor, {amperes_text(least)} each", Derivation(
        subject=f"{row.key}.leads",
        title=f"Least ampacity of the six leads of {row.tag or row.name or row.key}",
        value=amperes_text(least),
        origin=Origin.CHOSEN,
        inputs=(Input("FLC", "full-load current", amperes_text(full_load_a), Origin.CHOSEN, load.span),),
        steps=(step,),
        clause=edition.clause("430.22(C)"),
        span=load.span,
    )
