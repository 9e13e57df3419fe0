"""The fault pass: available fault current at every bus in every state, at feeders' and circuits' load ends."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from fedfrom.formulas.fault_current import asymmetrical_rms
from fedfrom.formulas.impedance import x_over_r
from fedfrom.formulas.voltage_drop import run_impedance
from fedfrom.graph.network import Node
from fedfrom.graph.walk import supplies
from fedfrom.passes.busway import circuit_place_ft, run_along
from fedfrom.passes.conductor_temperature import at_fault_temperature, fault_temperature_c, temperature_note
from fedfrom.passes.fault_derivation import fault_derivation
from fedfrom.passes.fault_findings import fault_findings
from fedfrom.passes.fault_study import BusFault, Studied, currents, study_state
from fedfrom.passes.least_fault import least_at_circuit_end, weakest_bus, weakest_end
from fedfrom.passes.network_model import network_data, primary_bus, state_network
from fedfrom.passes.practice import assumption
from fedfrom.passes.start_dip import start_derivation, start_dip
from fedfrom.passes.work import Pass, Work
from fedfrom.quantity import VoltageSystem
from fedfrom.results.derivation import Derivation
from fedfrom.results.types import CircuitResult, ConductorResult, FaultResult, FeederResult, TransformerResult


def run(work: Work) -> Work:
    """Fill `faults`, the load ends of feeders and circuits, and the fault fields of transformers."""
    cool = at_fault_temperature(work)
    study = study_all(cool)
    hot = study if cool is work else study_all(work)
    faults = _node_faults(cool, study)
    derivations = dict(work.derivations)
    derivations.update(_derivations(work, study, faults))
    derivations.update(_start_derivations(work, hot))
    work = replace(work, faults=faults, derivations=derivations)
    return replace(
        work,
        feeders={key: _feeder(work, study, hot, feeder) for key, feeder in work.feeders.items()},
        circuits={
            tag: _circuits(work, study, hot, tag, rows, cool.circuits[tag]) for tag, rows in work.circuits.items()
        },
        transformers={tag: _transformer(work, study, result) for tag, result in work.transformers.items()},
        findings=(*work.findings, *fault_findings(work, study.data, study.faults)),
    )


def study_all(work: Work) -> Studied:
    """Solve every operating state."""
    data = network_data(work)
    networks = {state.name: state_network(work, data, state) for state in work.plan.states}
    return Studied(data, networks, {name: study_state(network) for name, network in networks.items()})


def _node_faults(work: Work, study: Studied) -> dict[str, dict[str, FaultResult]]:
    found: dict[str, dict[str, FaultResult]] = {}
    note = temperature_note(fault_temperature_c(work))
    for tag, node in work.network.nodes.items():
        by_state: dict[str, FaultResult] = {}
        for name, faults in study.faults.items():
            bus = faults.known.get(tag)
            system = node.system or node.line_system
            if bus is not None and system is not None:
                by_state[name] = fault_result(name, bus, system, note)
        if by_state:
            found[tag] = by_state
    return found


def fault_result(state: str, bus: BusFault, system: VoltageSystem, note: str) -> FaultResult:
    """The public form of a bus fault for gear of a voltage system."""
    with_motors = currents(bus.level, system, bus.z1, bus.z0)
    without = currents(bus.level, system, bus.z1_without_motors, bus.z0)
    greatest = with_motors.greatest
    reference = with_motors.three_phase if with_motors.three_phase is not None else greatest
    plain = without.three_phase if without.three_phase is not None else without.greatest
    return FaultResult(
        state=state,
        three_phase_a=reference,
        line_line_a=with_motors.line_line,
        line_ground_a=with_motors.line_ground,
        x_over_r=x_over_r(bus.z1),
        motor_contribution_a=max(0.0, reference - plain),
        z_ohm=(bus.z1.real, bus.z1.imag),
        basis=f"{bus.basis}; {note}",
        assumed=bus.assumed,
        phases=3 if with_motors.three_phase is not None else 1,
        asymmetrical_a=_first_half_cycle(greatest, x_over_r(bus.z1)),
    )


def _first_half_cycle(symmetrical_a: float, ratio: float | None) -> float:
    """Total rms of the first half cycle with full offset; without resistance the offset does not decay."""
    if ratio is None:
        return math.sqrt(3) * symmetrical_a
    return asymmetrical_rms(symmetrical_a, ratio, 0.5) if ratio > 0 else symmetrical_a


def _derivations(work: Work, study: Studied, faults: Mapping[str, Mapping[str, FaultResult]]) -> dict[str, Derivation]:
    found: dict[str, Derivation] = {}
    degrees, ties = fault_temperature_c(work), _tie_runs(work)
    for tag, by_state in faults.items():
        worst = max(by_state.values(), key=lambda fault: fault.greatest_a)
        node = work.network.nodes[tag]
        bus = study.faults[worst.state].known[tag]
        subject = f"{tag}.fault"
        network = study.networks[worst.state]
        found[subject] = fault_derivation(subject, node, worst, bus, network, work.feeders, study.data, degrees, ties)
    return found


def _tie_runs(work: Work) -> dict[tuple[str, str], tuple[float, ConductorResult]]:
    """Length and conductors of the ties that have a length, by their ends in both directions."""
    found = {}
    for edge in work.network.edges.values():
        tie = work.ties.get(edge.id)
        if edge.tie is None or edge.tie.length_ft is None or tie is None or tie.conductors is None:
            continue
        for ends in ((edge.source, edge.target), (edge.target, edge.source)):
            found[ends] = (edge.tie.length_ft.value, tie.conductors)
    return found


def _start_derivations(work: Work, study: Studied) -> dict[str, Derivation]:
    """How each motor's start dips the voltage."""
    found: dict[str, Derivation] = {}
    for tag, rows in work.circuits.items():
        node, weakest = work.network.nodes.get(tag), weakest_bus(study, tag)
        if node is None or weakest is None:
            continue
        for row in rows:
            dip = start_dip(work, node, weakest[1], row) if row.kind in ("load", "tap") else None
            if dip is not None:
                found[f"{row.key}.start"] = start_derivation(row, dip, weakest[0])
    return found


# --- load ends -----------------------------------------------------------------------------------------------------


def _feeder(work: Work, study: Studied, hot: Studied, feeder: FeederResult) -> FeederResult:
    """The greatest fault at the load end over the states in which the feeder carries the load."""
    node = work.network.nodes.get(feeder.target)
    if node is None:
        return feeder
    bus_name = primary_bus(feeder.target) if node.role == "transformer" else feeder.target
    system = node.line_system or node.system
    found = [
        currents(bus.level, system, bus.z1, bus.z0)
        for state in work.plan.states
        if any(edge_id == feeder.id for edge_id, _ in supplies(work.network, state, feeder.target))
        and (bus := study.faults[state.name].known.get(bus_name)) is not None
        and system is not None
    ]
    if not found:
        return feeder
    worst = max(found, key=lambda current: current.greatest)
    feeder = replace(feeder, fault_load_end_a=worst.three_phase or worst.greatest)
    least = weakest_end(work, hot, feeder, bus_name)
    return feeder if least is None else replace(feeder, least_fault_a=least[0], least_fault_state=least[1])


def _worst_bus(study: Studied, tag: str, node: Node) -> BusFault | None:
    system = node.system or node.line_system
    buses = [bus for faults in study.faults.values() if (bus := faults.known.get(tag)) is not None]
    if not buses or system is None:
        return None
    return max(buses, key=lambda bus: currents(bus.level, system, bus.z1, bus.z0).greatest)


def _circuits(
    work: Work,
    study: Studied,
    hot: Studied,
    tag: str,
    rows: tuple[CircuitResult, ...],
    cool: tuple[CircuitResult, ...],
) -> tuple[CircuitResult, ...]:
    """The rows of one piece of gear; `cool` the same rows with conductors at the temperature of the greatest fault."""
    node = work.network.nodes.get(tag)
    bus = _worst_bus(study, tag, node) if node is not None else None
    if node is None or bus is None:
        return rows
    weakest = weakest_bus(hot, tag)
    done = []
    for row, cooled in zip(rows, cool, strict=True):
        end = _circuit(work, node, bus, cooled).fault_load_end_a
        done.append(_at_weakest(work, node, weakest, replace(row, fault_load_end_a=end)))
    return tuple(done)


def _circuit(work: Work, node: Node, bus: BusFault, row: CircuitResult) -> CircuitResult:
    if row.kind == "feeder":
        feeder = work.feeders.get(row.feeder_id)
        return replace(row, fault_load_end_a=feeder.fault_load_end_a) if feeder is not None else row
    conductors = row.conductors
    if row.kind not in ("load", "tap") or row.length_ft is None or conductors is None:
        return row
    if conductors.r_ohm_per_kft is None or conductors.x_ohm_per_kft is None:
        return row
    z = run_impedance(row.length_ft, conductors.r_ohm_per_kft, conductors.x_ohm_per_kft, conductors.sets)
    z += run_along(work, row.gear, circuit_place_ft(work.model.items.get(row.gear), row)) or 0j
    key = "conductor_z0_multiple" if row.poles == 3 else "two_wire_z0_multiple"
    ground = None if bus.z0 is None else bus.z0 + z * assumption(work.edition, key)
    system = node.system or node.line_system
    if system is None:
        return row
    end = currents(bus.level, system, bus.z1 + z, ground)
    by_poles = {3: end.three_phase, 2: end.line_line, 1: end.line_ground or end.line_line}
    return replace(row, fault_load_end_a=by_poles.get(row.poles))


def _at_weakest(work: Work, node: Node, weakest: tuple[str, BusFault] | None, row: CircuitResult) -> CircuitResult:
    """What a row sees in its weakest state: the smallest fault at its end, and the dip at a motor's start."""
    if weakest is None or row.kind not in ("load", "tap"):
        return row
    state, bus = weakest
    least = least_at_circuit_end(work, node, bus, row)
    if least is not None:
        row = replace(row, least_fault_a=least, least_fault_state=state)
    dip = start_dip(work, node, bus, row)
    return row if dip is None else replace(row, start_dip_pct=dip.percent, start_dip_state=state)


def _transformer(work: Work, study: Studied, result: TransformerResult) -> TransformerResult:
    """Impedance and faults on both sides, in the worst state."""
    node = work.network.nodes.get(result.tag)
    if node is None:
        return result
    data = study.data.transformers.get(result.tag)
    if data is not None:
        result = replace(result, impedance_pct=data.percent, impedance_origin=data.origin, x_over_r=data.x_over_r)
    secondary = _worst_bus(study, result.tag, node)
    primaries = [
        currents(bus.level, node.line_system, bus.z1, bus.z0).greatest
        for faults in study.faults.values()
        if (bus := faults.known.get(primary_bus(result.tag))) is not None and node.line_system is not None
    ]
    at_secondary = None
    if secondary is not None and node.system is not None:
        at_secondary = currents(secondary.level, node.system, secondary.z1, secondary.z0).greatest
    return replace(result, fault_primary_a=max(primaries) if primaries else None, fault_secondary_a=at_secondary)


PASS = Pass(
    "fault",
    needs=frozenset({"feeders", "circuits", "transformers"}),
    gives=frozenset({"faults", "feeders", "circuits", "transformers"}),
    run=run,
)
