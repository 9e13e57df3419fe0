"""The drop pass: voltage lost in every feeder and circuit, and from the service to the end of each, in every state.

Percent is of the nominal voltage between the conductors of the circuit (line to line for 3-phase and two ungrounded
conductors, line to neutral otherwise; of a single-phase three-wire run the pair that loses most). Added up across
transformers as percent of each side's own nominal voltage; the regulation of transformers themselves is not added, as
taps answer it (common practice, no source).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from fedfrom.formulas.three_wire_drop import ThreeWireLoad
from fedfrom.formulas.voltage_drop import DropError, percent_drop
from fedfrom.graph.loops import closing_edges
from fedfrom.graph.network import Edge, State
from fedfrom.graph.walk import supplies
from fedfrom.model.items import Origin, Value
from fedfrom.passes.busway import circuit_place_ft, feed_place_ft, impedance_per_ft, moment_ft
from fedfrom.passes.drop_derivation import drop_derivation
from fedfrom.passes.drop_run import Run
from fedfrom.passes.feeder_plan import three_wire_load
from fedfrom.passes.motors import circuit_power_factor, load_of
from fedfrom.passes.regulation import regulated, regulation_derivations
from fedfrom.passes.work import Pass, Work
from fedfrom.quantity import VoltageSystem
from fedfrom.results.derivation import Derivation, Step
from fedfrom.results.types import CircuitResult, FeederResult, NodeLoad
from fedfrom.source import Span
from fedfrom.tables import lookup


def run(work: Work) -> Work:
    """Fill the drop fields of feeders and circuits, `segment_drop_v` and `cumulative_drop_pct`."""
    segments = _segments(work)
    cumulative = _cumulative(work, segments)
    feeders = {key: _feeder(work, feeder, segments, cumulative) for key, feeder in work.feeders.items()}
    derivations = dict(work.derivations)
    for feeder in feeders.values():
        derivation = _feeder_derivation(work, feeder)
        if derivation is not None:
            derivations[derivation.subject] = derivation
    circuits: dict[str, tuple[CircuitResult, ...]] = {}
    for tag, rows in work.circuits.items():
        done = tuple(_circuit(work, row, feeders, cumulative.get(tag, {})) for row in rows)
        circuits[tag] = done
        for row in done:
            derivation = _circuit_derivation(work, row)
            if derivation is not None:
                derivations[derivation.subject] = derivation
    transformers = {tag: regulated(work, result) for tag, result in work.transformers.items()}
    derivations.update(regulation_derivations(work, transformers))
    return replace(
        work,
        feeders=feeders,
        circuits=circuits,
        transformers=transformers,
        segment_drop_v={key: {name: drop[0] for name, drop in by.items()} for key, by in segments.items() if by},
        cumulative_drop_pct=cumulative,
        derivations=derivations,
    )


# --- feeders -------------------------------------------------------------------------------------------------------

Drops = Mapping[str, Mapping[str, tuple[float, float]]]


def _segments(work: Work) -> dict[str, dict[str, tuple[float, float]]]:
    """(V, percent) by feeder and state; a state without an entry is not known, or the feeder carries nothing then."""
    found: dict[str, dict[str, tuple[float, float]]] = {key: {} for key in work.feeders}
    for state in work.plan.states:
        looped = bool(closing_edges(work.network, state))
        for tag in state.order:
            sharing = supplies(work.network, state, tag)
            if looped and len(sharing) > 1:
                continue  # how a loop divides the current is out of the method
            for edge_id, _ in sharing:
                feeder = work.feeders.get(edge_id)
                described = feeder_run(work, feeder, state.name, len(sharing)) if feeder is not None else None
                drop = described.drop() if described is not None else None
                if drop is not None:
                    found[edge_id][state.name] = drop
    return found


def feeder_run(work: Work, feeder: FeederResult, state: str, sharing: int = 1) -> Run | None:
    """The run of a feeder in a state; sources in parallel are taken to share the load equally. None: not known."""
    system = _arriving_system(work, feeder.target) or feeder.system
    if system is None or feeder.length_ft is None or feeder.conductors is None:
        return None
    if feeder.verb == "connects to":
        return _backward_run(feeder, system)
    by_state = work.loads.get(feeder.target)
    load = by_state.get(state) if by_state is not None else None
    if by_state and load is None:
        return None
    current = _current(work, feeder, load, system)
    factor = load.power_factor if load is not None else feeder.power_factor
    if current is None or factor is None:
        return None
    return Run(
        system.line_to_line_v,
        3 if system.phases == 3 else 1,
        current / sharing,
        feeder.length_ft,
        feeder.conductors,
        _usable(factor),
        *_three_wire(work, feeder, load, sharing),
    )


def _backward_run(feeder: FeederResult, system: VoltageSystem) -> Run | None:
    """A source in parallel with the supply delivers its rated current, whatever the load is."""
    if feeder.load_a is None or feeder.length_ft is None or feeder.conductors is None:
        return None
    factor = _usable(feeder.power_factor or 1.0)
    phases = 3 if system.phases == 3 else 1
    return Run(system.line_to_line_v, phases, feeder.load_a, feeder.length_ft, feeder.conductors, factor)


def _three_wire(
    work: Work, feeder: FeederResult, load: NodeLoad | None, sharing: int
) -> tuple[ThreeWireLoad | None, tuple[float, float] | None]:
    """The loads by conductor and the impedance of the neutral of a single-phase three-wire feeder."""
    node = work.network.nodes.get(feeder.target)
    wires = feeder.conductors
    found = three_wire_load(load, node) if load is not None and node is not None else None
    if found is None or wires is None or not wires.neutral:
        return None, None
    shared = replace(found, a_va=found.a_va / sharing, b_va=found.b_va / sharing, ab_va=found.ab_va / sharing)
    same = wires.neutral == wires.phase or wires.origins.get("impedance") is Origin.WRITTEN
    kind = wires.raceway_kind
    return shared, None if same else lookup.impedance(work.edition, wires.material, wires.neutral, kind)


def _current(work: Work, feeder: FeederResult, load: NodeLoad | None, system: VoltageSystem) -> float | None:
    if load is None:
        return feeder.load_a
    if not load.complete:
        return None
    node = work.network.nodes.get(feeder.target)
    if node is not None and node.role == "transformer":
        return load.demand_va / ((math.sqrt(3) if system.phases == 3 else 1.0) * system.line_to_line_v)
    return load.demand_a


def _arriving_system(work: Work, tag: str) -> VoltageSystem | None:
    node = work.network.nodes.get(tag)
    return (node.line_system or node.system) if node is not None else None


def _usable(power_factor: float) -> float:
    return min(1.0, power_factor) if power_factor > 0 else 1.0


def _cumulative(work: Work, segments: Drops) -> dict[str, dict[str, float]]:
    """Percent from the source to each node, by state; the worst of several supplies; absent where not known."""
    found: dict[str, dict[str, float]] = {}
    for state in work.plan.states:
        here: dict[str, float] = {}
        for tag in state.order:
            sources = supplies(work.network, state, tag)
            sums = [_through(work, state, edge_id, parent, here, segments) for edge_id, parent in sources]
            known = [value for value in sums if value is not None]
            if len(known) == len(sums):
                here[tag] = max(known, default=0.0)
        for tag, value in here.items():
            found.setdefault(tag, {})[state.name] = value
    return {tag: found[tag] for tag in work.network.nodes if tag in found}


def _through(
    work: Work, state: State, edge_id: str, parent: str, known: Mapping[str, float], segments: Drops
) -> float | None:
    """Cumulative percent at the far end of one connection; conductors of the utility do not count."""
    before = known.get(parent)
    if before is None:
        return None
    edge = work.network.edges[edge_id]
    if _without_drop(edge):
        return before
    segment = segments.get(edge_id, {}).get(state.name)
    along = along_pct(work, parent, feed_place_ft(work, edge_id), state.name)
    return None if segment is None or along is None else before + along + segment[1]


def along_pct(work: Work, tag: str, place_ft: float, state: str) -> float | None:
    """Percent lost along a busway up to a place on it, its loads where they are; 0 on other gear, None: not known."""
    if place_ft == 0:
        return 0.0
    item, system = work.model.items.get(tag), _arriving_system(work, tag)
    each = impedance_per_ft(item) if item is not None else None
    load = work.loads.get(tag, {}).get(state)
    if each is None or load is None or not load.complete or system is None or system.is_dc:
        return None
    length, volts, phases = moment_ft(work, tag, place_ft), system.line_to_line_v, 3 if system.phases == 3 else 1
    r, x = each.real * 1000, each.imag * 1000
    try:
        return percent_drop(volts, phases, load.demand_a, length, r, x, _usable(load.power_factor))[1]
    except DropError:
        return None


def _without_drop(edge: Edge) -> bool:
    if edge.kind == "inside" or (edge.tie is not None and edge.tie.length_ft is None):
        return True
    feed = edge.feed
    return feed is not None and "utility" in (feed.by, feed.conductors.wire.by)


def _feeder(
    work: Work, feeder: FeederResult, segments: Drops, cumulative: Mapping[str, Mapping[str, float]]
) -> FeederResult:
    limit = _percent(work.model.defaults.drop_feeder_pct) if feeder.kind != "inside" else None
    by_state = segments.get(feeder.id, {})
    if not by_state:
        return replace(feeder, drop_limit_pct=limit)
    worst = max(by_state, key=lambda name: by_state[name][1])
    totals = [value for name, value in cumulative.get(feeder.target, {}).items() if name in by_state]
    return replace(
        feeder,
        drop_v=by_state[worst][0],
        drop_pct=by_state[worst][1],
        cumulative_drop_pct=max(totals) if totals else None,
        drop_limit_pct=limit,
        worst_state=feeder.worst_state or worst,
    )


def _percent(value: Value[float] | None) -> float | None:
    return value.value if value is not None else None


# --- circuits ------------------------------------------------------------------------------------------------------


def _circuit(
    work: Work, row: CircuitResult, feeders: Mapping[str, FeederResult], above: Mapping[str, float]
) -> CircuitResult:
    if row.kind == "feeder":
        feeder = feeders.get(row.feeder_id)
        if feeder is None:
            return row
        return replace(
            row,
            drop_v=feeder.drop_v,
            drop_pct=feeder.drop_pct,
            cumulative_drop_pct=feeder.cumulative_drop_pct,
            drop_state=feeder.worst_state,
        )
    described = circuit_run(work, row)
    drop = described.drop() if described is not None else None
    if drop is None:
        return row
    place = circuit_place_ft(work.model.items.get(row.gear), row)
    sums: dict[str, float] = {}
    for state, before in above.items():
        along = along_pct(work, row.gear, place, state)
        if along is not None:
            sums[state] = before + along + drop[1]
    row = replace(row, drop_v=drop[0], drop_pct=drop[1])
    if not sums or len(sums) < len(above):
        return row
    worst = max(sums, key=lambda state: sums[state])
    return replace(row, cumulative_drop_pct=sums[worst], drop_state=worst)


def circuit_run(work: Work, row: CircuitResult) -> Run | None:
    """The run of a branch circuit with its whole load at the end, None where something is not known.

    One pole: line to neutral and back, also for a shared neutral (one leg may be loaded alone: the safe side).
    """
    system = _arriving_system_of_gear(work, row.gear)
    if row.kind not in ("load", "tap") or row.load_a is None or row.length_ft is None or row.conductors is None:
        return None
    if system is None:
        return None
    volts = system.line_to_line_v
    phases = 3 if row.poles == 3 and not row.multiwire else 1
    to_neutral = row.poles == 1 or row.multiwire
    if to_neutral and system.has_neutral:
        volts = system.line_to_neutral_v
    factor = circuit_power_factor(work.edition, work.model.items.get(row.gear), row)
    return Run(volts, phases, row.load_a, row.length_ft, row.conductors, factor)


def _arriving_system_of_gear(work: Work, tag: str) -> VoltageSystem | None:
    node = work.network.nodes.get(tag)
    return (node.system or node.line_system) if node is not None else None


# --- derivations ---------------------------------------------------------------------------------------------------


def _feeder_derivation(work: Work, feeder: FeederResult) -> Derivation | None:
    if feeder.drop_v is None or feeder.drop_pct is None:
        return None
    by_state = work.loads.get(feeder.target)
    states = [state.name for state in work.plan.states]
    chosen: Run | None = None
    name = ""
    for state in states if by_state else states[:1]:
        described = feeder_run(work, feeder, state)
        drop = described.drop() if described is not None else None
        if described is not None and drop is not None and abs(drop[1] - feeder.drop_pct) < 1e-9:
            chosen, name = described, state
            break
    if chosen is None:
        return None
    feed = work.network.edges[feeder.id].feed
    return drop_derivation(
        f"{feeder.id}.feeder.drop",
        f"Voltage drop of the feeder to {feeder.target}",
        chosen,
        (feeder.drop_v, feeder.drop_pct),
        name,
        _sum(feeder.drop_pct, feeder.cumulative_drop_pct, "feeders above"),
        _place(feed.length_ft if feed is not None else None),
        f"see {feeder.target}.demand",
        feeder.span,
    )


def _circuit_derivation(work: Work, row: CircuitResult) -> Derivation | None:
    if row.kind == "feeder" or row.drop_v is None or row.drop_pct is None:
        return None
    described = circuit_run(work, row)
    if described is None:
        return None
    load = load_of(work.model.items.get(row.gear), row)
    return drop_derivation(
        f"{row.key}.drop",
        f"Voltage drop of circuit {row.key}",
        described,
        (row.drop_v, row.drop_pct),
        "",
        _sum(row.drop_pct, row.cumulative_drop_pct, "feeders above, worst state"),
        _place(load.length_ft if load is not None else None),
        "the whole load at the end",
        row.span,
    )


def _sum(own_pct: float, total_pct: float | None, above: str) -> tuple[Step, ...]:
    if total_pct is None:
        return ()
    numbers = f"{total_pct - own_pct:.2f} + {own_pct:.2f}"
    return (Step(f"from the service = {above} + this one", numbers, f"{total_pct:.2f} %"),)


def _place(length: Value[float] | None) -> tuple[Origin, Span | None]:
    return (length.origin, length.span) if length is not None else (Origin.CHOSEN, None)


PASS = Pass(
    "drop",
    needs=frozenset({"loads", "circuits", "feeders"}),
    gives=frozenset({"feeders", "circuits", "transformers", "segment_drop_v", "cumulative_drop_pct"}),
    run=run,
)
