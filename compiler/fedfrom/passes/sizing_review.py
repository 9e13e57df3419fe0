"""The sizing of every circuit and feeder laid open for the rules: what was asked, and what stands there."""

from __future__ import annotations

from dataclasses import dataclass, replace

from fedfrom.formulas.motors import motor_device, motor_feeder_limit
from fedfrom.graph.network import Network, StatePlan
from fedfrom.model.items import Load, Model, Status
from fedfrom.passes.branch_circuits import branch_request, circuit_volts
from fedfrom.passes.branch_needs import BranchNeed, branch_need
from fedfrom.passes.feeder_conductors import Protection, conductor_request, protection_of
from fedfrom.passes.feeder_devices import DeviceSizer
from fedfrom.passes.feeder_plan import FeederPlan, plan_feeder
from fedfrom.passes.motors import load_of
from fedfrom.passes.sizing_conductors import ConductorRequest, Option, PhaseChoice, choose_phase
from fedfrom.passes.work import Work
from fedfrom.results.types import CircuitResult, ConductorResult, FeederResult, Results
from fedfrom.source import Span
from fedfrom.tables import Edition, lookup


@dataclass(frozen=True, slots=True)
class Wiring:
    """Conductors as they stand, with the request that they answer. `subject` for findings, `span` to point at.

    `motor_feeder`: a feeder straight to motors, which has a rule of its own (NEC 430.24, 430.62). `existing`: as found.
    `with_growth`: the choice for a feeder with its room for growth, where that is another one.
    """

    subject: str
    conductors: ConductorResult
    request: ConductorRequest
    choice: PhaseChoice
    span: Span | None
    motor_feeder: bool = False
    existing: bool = False
    with_growth: PhaseChoice | None = None

    @property
    def option(self) -> Option:
        return self.choice.option


@dataclass(frozen=True, slots=True)
class CircuitReview:
    """A branch circuit: its row, the load line, what the load asks; `wiring` None where nothing could be sized."""

    row: CircuitResult
    load: Load | None
    need: BranchNeed
    volts: float
    phases: int
    wiring: Wiring | None


@dataclass(frozen=True, slots=True)
class FeederReview:
    """A feeder: its result, plan (without growth) and protection; `wiring` None where nothing could be sized.

    `motor_limit_a`: the greatest device of a feeder with motors (NEC 430.62(A), 430.63), wherever below they stand at
    its own voltage; None without motors.
    """

    feeder: FeederResult
    plan: FeederPlan
    protection: Protection
    wiring: Wiring | None
    motor_limit_a: float | None


@dataclass(frozen=True, slots=True)
class Review:
    """All branch circuits and feeders, in source order. `work` with the final results, `sizer` for devices ahead."""

    work: Work
    sizer: DeviceSizer
    circuits: tuple[CircuitReview, ...]
    feeders: tuple[FeederReview, ...]

    @property
    def wirings(self) -> tuple[Wiring, ...]:
        """Every set of conductors, branch circuits first."""
        found = [each.wiring for each in self.circuits] + [each.wiring for each in self.feeders]
        return tuple(wiring for wiring in found if wiring is not None)


# The review of the design that the rules are looking at; every rule of sizing asks for the same one.
_latest: list[tuple[Results, Review]] = []


def review(model: Model, network: Network, plan: StatePlan, results: Results, edition: Edition) -> Review:
    """The review of a design; kept for the next rule that asks for the same results."""
    if _latest and _latest[0][0] is results:
        return _latest[0][1]
    made = _make(model, network, plan, results, edition)
    _latest[:] = [(results, made)]
    return made


def _make(model: Model, network: Network, plan: StatePlan, results: Results, edition: Edition) -> Review:
    mains = {tag: gear.main for tag, gear in results.gear.items() if gear.main is not None}
    work = Work(
        model,
        network,
        plan,
        edition,
        loads=results.loads,
        circuits=results.circuits,
        feeders=results.feeders,
        mains=mains,
        transformers=results.transformers,
    )
    plans = {
        edge.id: plan_feeder(work, edge, with_growth=False) for edge in network.edges.values() if edge.feed is not None
    }
    sizer = DeviceSizer(work, plans)
    circuits = tuple(
        made for rows in results.circuits.values() for row in rows if (made := _circuit(work, row)) is not None
    )
    feeders = tuple(_feeder(work, sizer, each) for each in plans.values() if each.feed.feeder_id in results.feeders)
    return Review(work, sizer, circuits, feeders)


def _circuit(work: Work, row: CircuitResult) -> CircuitReview | None:
    node = work.network.nodes.get(row.gear)
    if row.kind not in ("load", "tap") or node is None or node.system is None:
        return None
    load = load_of(node.item, row)
    volts, phases = circuit_volts(node.system, row.poles, row.multiwire)
    need = branch_need(work.edition, row, load, volts, phases)
    request = branch_request(work, node.system, row, load, need, row.device)
    span = load.conductors.phase.span if load and load.conductors.phase else row.span
    existing = row.status is Status.EXISTING
    wiring = _wiring(work.edition, row.key, row.conductors, request, span or row.span, existing=existing)
    return CircuitReview(row, load, need, volts, phases, wiring)


def _feeder(work: Work, sizer: DeviceSizer, plan: FeederPlan) -> FeederReview:
    feeder = work.feeders[plan.feed.feeder_id]
    protection = protection_of(work, sizer, plan)
    requested = conductor_request(work, plan, protection)
    phase = plan.feed.conductors.phase
    span = (phase.span if phase else None) or feeder.span
    request = requested[0] if requested else None
    limit = _motor_limit(work, feeder.target) if feeder.kind == "feeder" else None
    existing = feeder.status is Status.EXISTING
    wiring = _wiring(work.edition, feeder.id, feeder.conductors, request, span, limit is not None, existing)
    if wiring is not None and feeder.conductors is not None and not existing:
        grown = plan_feeder(work, plan.edge)
        larger = conductor_request(work, grown, protection) if grown.design_a != plan.design_a else None
        wiring = replace(wiring, with_growth=choose_phase(work.edition, larger[0])) if larger else wiring
    return FeederReview(feeder, plan, protection, wiring, limit)


def _motor_limit(work: Work, tag: str) -> float | None:
    rows, through = _rows_below(work, tag, set())
    motors = [row for row in rows if row.table_a is not None and row.device is not None]
    if not motors:
        return None
    largest = max(motors, key=lambda row: _motor_device_a(work.edition, row))
    others = sum(row.table_a or 0.0 for row in motors if row is not largest)
    rest = sum((1.25 if row.continuous else 1.0) * (row.load_a or 0.0) for row in rows if row not in motors)
    return motor_feeder_limit(_motor_device_a(work.edition, largest), others, rest + through)


def _motor_device_a(edition: Edition, row: CircuitResult) -> float:
    """The device of a motor as the feeder rule takes it: an instantaneous trip as an inverse-time breaker (430.62(A),
    exception 1)."""
    if row.device is None or row.table_a is None:
        return 0.0
    if "magnetic only" not in row.device.options:
        return row.device.protects_a
    kind = "single_phase" if row.poles < 3 else "polyphase_other_than_wound_rotor"
    percent = lookup.motor_device_pct(edition, kind, "inverse_time_breaker") or 0.0
    ratings = lookup.standard_ratings(edition, "breaker")
    return motor_device(row.table_a, percent, ratings) or row.device.protects_a


def _rows_below(work: Work, tag: str, seen: set[str]) -> tuple[list[CircuitResult], float]:
    """The loads of gear and of all gear below it at its own voltage, and the primary currents of transformers, A."""
    seen.add(tag)
    rows = [row for row in work.circuits.get(tag, ()) if row.kind == "load" and row.load_a is not None]
    through = 0.0
    for edge_id in work.network.outgoing.get(tag, ()):
        edge = work.network.edges[edge_id]
        if edge.target in seen or edge.kind == "tie" or (edge.feed is not None and edge.feed.verb == "connects to"):
            continue
        if work.network.nodes[edge.target].role == "transformer":
            feeder = work.feeders.get(edge_id)
            through += (feeder.load_a or 0.0) if feeder is not None else 0.0
            continue
        more, further = _rows_below(work, edge.target, seen)
        rows, through = rows + more, through + further
    return rows, through


def _wiring(
    edition: Edition,
    subject: str,
    conductors: ConductorResult | None,
    request: ConductorRequest | None,
    span: Span | None,
    motor_feeder: bool = False,
    existing: bool = False,
) -> Wiring | None:
    if conductors is None or request is None:
        return None
    choice = choose_phase(edition, request)
    return None if choice is None else Wiring(subject, conductors, request, choice, span, motor_feeder, existing)
