"""The ratings pass: what every device must interrupt, and the rating chosen for it where none is written.

The line side of a device is the bus that it stands on. A rating left out is the smallest usual one (practice table
`interrupting_ratings`) that is not below the duty: the greatest fault there times the multiplying factor of a high X/R.
The rating of an existing device is a fact: where it is not stated it stays unknown.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from fedfrom.formulas.fault_current import (
    InterruptingTest,
    multiplying_factor,
    power_factor_of_test,
    x_over_r_of_power_factor,
)
from fedfrom.model.fact_reading import amount
from fedfrom.model.items import Item, Status
from fedfrom.passes.practice import ratings_at
from fedfrom.passes.protection import mirrored, protect
from fedfrom.passes.work import Pass, Work
from fedfrom.quantity import Dimension
from fedfrom.results.derivation import Derivation, Input, Rejected, Step
from fedfrom.results.notation import kiloamperes_text
from fedfrom.results.types import CircuitResult, DeviceResult, FaultResult, TieResult, TransformerResult
from fedfrom.tables import Edition

POWER_BREAKER_OPTIONS = ("drawout",)
LARGEST_CLASS_J = 600.0
FOUND_AS_IT_IS = (Status.EXISTING, Status.RELOCATED, Status.DEMOLISH)


@dataclass(frozen=True, slots=True)
class SeriesRating:
    """A declared series combination on a piece of gear: its rating, A, and the tag of the upstream partner."""

    rating_a: float
    partner: str


def series_rating(item: Item) -> SeriesRating | None:
    """The series combination that a piece of gear declares, or None."""
    fact = item.facts.first("series rated")
    rating = amount(fact, Dimension.CURRENT)
    partner = fact.values.get("partner") if fact is not None else None
    return SeriesRating(rating, partner) if rating is not None and isinstance(partner, str) else None


def run(work: Work) -> Work:
    """Fill the rating fields of every device, after the functions that the code requires."""
    work = protect(work)
    derivations = dict(work.derivations)
    mains = {}
    for tag, device in work.mains.items():
        mains[tag] = _rated_at(work, tag, device)
        derivations.update(_derivation(work, f"{tag}.main.interrupting", mains[tag], tag))
    feeders = {}
    for key, feeder in work.feeders.items():
        rated = _rated_at(work, feeder.source, feeder.device) if feeder.device is not None else None
        feeders[key] = replace(feeder, device=rated)
        if rated is not None:
            derivations.update(_derivation(work, f"{key}.feeder.interrupting", rated, feeder.source))
    circuits = {tag: tuple(_circuit(work, tag, row) for row in rows) for tag, rows in work.circuits.items()}
    for rows in circuits.values():
        for row in rows:
            if row.device is not None and row.kind != "feeder":
                derivations.update(_derivation(work, f"{row.key}.interrupting", row.device, row.gear))
    work = replace(work, mains=mains, feeders=feeders, circuits=circuits, derivations=derivations)
    return replace(work, circuits=mirrored(work), transformers=_transformers(work), ties=_ties(work))


def _circuit(work: Work, tag: str, row: CircuitResult) -> CircuitResult:
    if row.device is None or row.kind == "feeder":
        return row
    return replace(row, device=_rated_at(work, tag, row.device))


def _transformers(work: Work) -> dict[str, TransformerResult]:
    done = {}
    for tag, result in work.transformers.items():
        feeder = work.feeders.get(tag)
        primary = feeder.device if feeder is not None and feeder.device is not None else result.primary_device
        secondary = result.secondary_device
        done[tag] = replace(
            result,
            primary_device=primary,
            secondary_device=_rated_at(work, tag, secondary) if secondary is not None else None,
        )
    return done


def _ties(work: Work) -> dict[str, TieResult]:
    done = {}
    for tag, result in work.ties.items():
        device = result.device
        if device is not None:
            worst = max(result.ends, key=lambda end: _greatest(work.worst_fault(end)))
            device = _rated_at(work, worst, device)
        done[tag] = replace(result, device=device)
    return done


def _greatest(fault: FaultResult | None) -> float:
    return fault.greatest_a if fault is not None else -1.0


def _rated_at(work: Work, tag: str, device: DeviceResult) -> DeviceResult:
    """A device with its rating, for the worst state at the bus that it stands on."""
    node = work.network.nodes.get(tag)
    system = (node.system or node.line_system) if node is not None else None
    if node is None or system is None or system.is_dc:
        return device
    fault = work.worst_fault(tag)
    floor = amount(node.item.facts.first("sccr"), Dimension.CURRENT) or 0.0
    return rate(work.edition, device, fault, system.line_to_line_v, series_rating(node.item), floor)


def rate(
    edition: Edition,
    device: DeviceResult,
    fault: FaultResult | None,
    volts: float,
    series: SeriesRating | None = None,
    floor_a: float = 0.0,
) -> DeviceResult:
    """A device with its interrupting rating and the fault that it must interrupt.

    `floor_a`: the rating written on its gear, which every device in a fully rated assembly must have. With a declared
    series combination the device itself may have the smallest usual rating. Nothing is chosen without a fault current.
    """
    if device.kind == "switch":
        return device
    if fault is not None:
        device = replace(device, fault_a=fault.greatest_a, fault_state=fault.state)
    if device.interrupting_a is not None:
        return replace(device, rating_basis=f"series rated with {series.partner}" if series else "fully rated")
    if device.status in FOUND_AS_IT_IS or device.by == "utility" or fault is None:
        return replace(device, rating_basis="not established")
    if device.fuse_a is not None or "fuse" in device.kind:
        return _fused(edition, device)
    if series is not None and series.rating_a >= fault.greatest_a:
        smallest = ratings_at(edition, "interrupting_ratings", volts)[0]
        return replace(device, interrupting_a=smallest, rating_basis=f"series rated with {series.partner}")
    chosen = _smallest(edition, device, fault, volts, floor_a)
    return replace(device, interrupting_a=chosen, rating_basis="fully rated" if chosen else "no usual rating suffices")


def _smallest(edition: Edition, device: DeviceResult, fault: FaultResult, volts: float, floor_a: float) -> float | None:
    for rating in ratings_at(edition, "interrupting_ratings", volts):
        if rating >= max(duty(device, fault, rating), floor_a):
            return rating
    return None


def duty(device: DeviceResult, fault: FaultResult, rating_a: float) -> float:
    """The current that a rating is held against, A: the greatest fault times the factor of an X/R above the test's."""
    return fault.greatest_a * multiplying_factor(interrupting_test(device), rating_a, fault.x_over_r)


def interrupting_test(device: DeviceResult) -> InterruptingTest:
    """The kind of interrupting test a device has had: drawout breakers are taken as power breakers."""
    if device.fuse_a is not None:
        return InterruptingTest.POWER_FUSED
    if any(option in device.options for option in POWER_BREAKER_OPTIONS):
        return InterruptingTest.POWER_UNFUSED
    return InterruptingTest.MOLDED_CASE


def _fused(edition: Edition, device: DeviceResult) -> DeviceResult:
    """A fused switch interrupts what its fuses do. A class left out: J to 600 A, L above (common practice)."""
    fuse_class = device.fuse_class or ("J" if device.protects_a <= LARGEST_CLASS_J else "L")
    for row in edition.rows("fuse_classes"):
        if row["fuse_class"].split("_")[0] == fuse_class:
            rating = float(row["interrupting_ka"]) * 1000
            return replace(
                device, fuse_class=fuse_class, interrupting_a=rating, rating_basis=f"class {fuse_class} fuses"
            )
    return replace(device, rating_basis="not established")


def _derivation(work: Work, subject: str, device: DeviceResult, bus: str) -> Iterable[tuple[str, Derivation]]:
    fault = work.worst_fault(bus)
    node = work.network.nodes.get(bus)
    if device.interrupting_a is None or fault is None or node is None:
        return ()
    system = node.system or node.line_system
    volts = system.line_to_line_v if system is not None else 0.0
    factor = multiplying_factor(interrupting_test(device), device.interrupting_a, fault.x_over_r)
    ratio = "all reactance" if fault.x_over_r is None else f"{fault.x_over_r:.2f}"
    lower = [
        value for value in ratings_at(work.edition, "interrupting_ratings", volts) if value < device.interrupting_a
    ]
    rejected: tuple[Rejected, ...] = ()
    if lower and device.rating_basis == "fully rated":
        short = duty(device, fault, lower[-1])
        rejected = (Rejected(kiloamperes_text(lower[-1]), f"the duty would be {kiloamperes_text(short)}"),)
    derivation = Derivation(
        subject=subject,
        title=f"Interrupting rating at {bus}",
        value=kiloamperes_text(device.interrupting_a),
        origin=device.origin,
        inputs=(
            Input("I", "greatest fault at the line side", f"{fault.greatest_a:.0f} A"),
            Input("X/R", "there", ratio),
        ),
        steps=(
            *_factor_steps(interrupting_test(device), device.interrupting_a, fault.x_over_r),
            Step("duty = I x factor", f"{fault.greatest_a:.0f} x {factor:.3f}", f"{fault.greatest_a * factor:.0f} A"),
            Step(f"rating of at least the duty, {device.rating_basis}", "", kiloamperes_text(device.interrupting_a)),
        ),
        rounding="up to the next usual rating at this voltage",
        clause=work.edition.clause("110.9"),
        rejected=rejected,
        state=fault.state,
        span=device.span,
    )
    return ((subject, derivation),)


TESTED = {
    InterruptingTest.MOLDED_CASE: "molded-case breaker",
    InterruptingTest.POWER_UNFUSED: "power breaker",
    InterruptingTest.POWER_FUSED: "fuses",
}


def _factor_steps(test: InterruptingTest, rating_a: float, ratio: float | None) -> Iterable[Step]:
    """The factor of a circuit whose X/R is above that of the device's test, from the X/R of both."""
    factor = multiplying_factor(test, rating_a, ratio)
    power_factor = power_factor_of_test(test, rating_a)
    tested = x_over_r_of_power_factor(power_factor)
    standard = "UL 489" if test is InterruptingTest.MOLDED_CASE else "IEEE C37.13-2008"
    method = "IEEE Std 242" if test is InterruptingTest.MOLDED_CASE else standard
    numbers = f"sqrt(1 - {power_factor:g}^2) / {power_factor:g}"
    yield Step(f"X/R of the test, {TESTED[test]}, at its power factor", numbers, f"{tested:.2f}", standard)
    if factor <= 1.0:
        yield Step("factor of a circuit that is not above the test", "", "1.000", standard)
        return
    exponent = "0" if ratio is None else f"-3.1416 / {ratio:.2f}"
    forms = {
        InterruptingTest.MOLDED_CASE: (
            "factor = (1 + exp(-pi / (X/R))) / (1 + exp(-pi / (X/R of the test)))",
            f"(1 + exp({exponent})) / (1 + exp(-3.1416 / {tested:.2f}))",
        ),
        InterruptingTest.POWER_UNFUSED: (
            "factor = 1.4142 (1 + exp(-pi / (X/R))) / 2.29",
            f"1.4142 x (1 + exp({exponent})) / 2.29",
        ),
        InterruptingTest.POWER_FUSED: (
            "factor = sqrt(1 + 2 exp(-pi / (X/R))^2) / 1.25",
            f"sqrt(1 + 2 x exp({exponent})^2) / 1.25",
        ),
    }
    yield Step(*forms[test], f"{factor:.3f}", f"{method}, from memory")


PASS = Pass(
    "ratings",
    needs=frozenset({"faults", "mains", "feeders", "circuits", "transformers", "ties"}),
    gives=frozenset({"mains", "feeders", "circuits", "transformers", "ties"}),
    run=run,
)
