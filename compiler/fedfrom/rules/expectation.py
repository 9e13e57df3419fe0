"""What the text expects of the results: tests of the design, as CI runs them."""

from __future__ import annotations

import operator
from collections.abc import Callable

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Expectation
from fedfrom.quantity import Dimension, Quantity
from fedfrom.results.governing import governing_load
from fedfrom.results.notation import amperes_text, kiloamperes_text, kva_text, percent_text
from fedfrom.results.types import ExpectResult, NodeLoad
from fedfrom.rules.registry import Design

COMPARE: dict[str, Callable[[float, float], bool]] = {
    "<=": operator.le,
    ">=": operator.ge,
    "<": operator.lt,
    ">": operator.gt,
    "=": operator.eq,
    "!=": operator.ne,
}


def check_expectations(design: Design) -> tuple[tuple[ExpectResult, ...], list[Finding]]:
    """The outcome of every `expect` in the order of the text, and a finding for each that is not met or not known."""
    outcomes, findings = [], []
    for expectation in design.model.expectations:
        outcome = _check(design, expectation)
        outcomes.append(outcome)
        if outcome.met is not True:
            findings.append(_finding(expectation, outcome))
    return tuple(outcomes), findings


def _check(design: Design, expectation: Expectation) -> ExpectResult:
    value = expectation.value
    if not isinstance(value, Quantity) or expectation.compare not in COMPARE:
        return ExpectResult(expectation.text, "", None, "a quantity to compare with", expectation.span)
    measured, note = _MEASURES[expectation.measure](design, expectation.subject, value, expectation.compare)
    if measured is None:
        return ExpectResult(expectation.text, "NOT KNOWN", None, note, expectation.span)
    met = COMPARE[expectation.compare](round(measured, 6), float(value))
    return ExpectResult(expectation.text, _shown(measured, value, expectation.measure), met, note, expectation.span)


def _shown(measured: float, value: Quantity, measure: str) -> str:
    if measure == "fault":
        return kiloamperes_text(measured)
    if value.dimension is Dimension.CURRENT:
        return amperes_text(measured)
    if value.dimension is Dimension.APPARENT:
        return kva_text(measured)
    return percent_text(measured, 2) if value.dimension is Dimension.PERCENT else f"{measured:g}"


def _finding(expectation: Expectation, outcome: ExpectResult) -> Finding:
    unknown = outcome.met is None
    return Finding(
        rule="expectation-unmet",
        severity=Severity.NOT_CHECKED if unknown else Severity.ERROR,
        subject=expectation.subject,
        message=f"expected {expectation.text}: not checked, needs {outcome.note}"
        if unknown
        else f"expected {expectation.text}; it is {outcome.measured}",
        span=expectation.span,
        notes=() if unknown or not outcome.note else (outcome.note,),
        help="change the design, or the expectation if the design is right" if not unknown else "",
    )


# --- measures: (value in base units or None, a note: the state that governs, or what is needed) ----------------------

Measured = tuple[float | None, str]


def _fault(design: Design, tag: str, value: Quantity, compare: str) -> Measured:
    """The greatest fault for an upper limit, the least for a lower one."""
    faults = design.results.faults.get(tag, {})
    if not faults:
        return None, f"the fault current at {tag}"
    pick = max if compare in ("<=", "<") else min
    found = pick(faults.values(), key=lambda fault: fault.greatest_a)
    return found.greatest_a, f"in state {found.state}"


def _demand(design: Design, tag: str, value: Quantity, compare: str) -> Measured:
    return _of_load(design, tag, lambda load: load.demand_a if value.dimension is Dimension.CURRENT else load.demand_va)


def _load(design: Design, tag: str, value: Quantity, compare: str) -> Measured:
    """Connected load; in amperes on the system of the node."""

    def connected(load: NodeLoad) -> float:
        if value.dimension is not Dimension.CURRENT:
            return load.connected_va
        return load.demand_a * load.connected_va / load.demand_va if load.demand_va else 0.0

    return _of_load(design, tag, connected)


def _of_load(design: Design, tag: str, figure: Callable[[NodeLoad], float]) -> Measured:
    load = governing_load(design.results, tag)
    if load is None:
        return None, f"the load at {tag}"
    if not load.complete:
        return None, f"every load below {tag}"
    return figure(load), f"in state {load.state}"


def _drop(design: Design, tag: str, value: Quantity, compare: str) -> Measured:
    """The cumulative drop at gear or at the end of a circuit, the greatest of its feeders."""
    found = [feeder.cumulative_drop_pct for feeder in design.results.feeders.values() if feeder.target == tag]
    for rows in design.results.circuits.values():
        found += [row.cumulative_drop_pct for row in rows if row.key == tag or (row.tag and row.tag == tag)]
    if not found or any(drop is None for drop in found):
        return None, f"load, conductors and length of every feeder to {tag}"
    return max(drop for drop in found if drop is not None), ""


def _spare_amperes(design: Design, tag: str, value: Quantity, compare: str) -> Measured:
    gear = design.results.gear.get(tag)
    if gear is None or gear.spare_ampacity_a is None:
        return None, f"the rating and the load of {tag}"
    return gear.spare_ampacity_a, ""


def _spare_poles(design: Design, tag: str, value: Quantity, compare: str) -> Measured:
    gear = design.results.gear.get(tag)
    if gear is None or not gear.positions_total:
        return None, f"numbered positions in {tag}"
    return float(gear.positions_total - gear.positions_used), ""


_MEASURES: dict[str, Callable[[Design, str, Quantity, str], Measured]] = {
    "fault": _fault,
    "demand": _demand,
    "drop": _drop,
    "load": _load,
    "spare amperes": _spare_amperes,
    "spare poles": _spare_poles,
}
