"""The smallest fault that a device must see: at the far end, in the weakest state, without motors, with hot wires."""

from __future__ import annotations

from fedfrom.formulas.voltage_drop import run_impedance
from fedfrom.graph.network import Node
from fedfrom.graph.walk import supplies
from fedfrom.passes.busway import circuit_place_ft, run_along
from fedfrom.passes.fault_study import BusFault, Currents, Studied, currents
from fedfrom.passes.practice import assumption
from fedfrom.passes.work import Work
from fedfrom.quantity import VoltageSystem
from fedfrom.results.types import CircuitResult, FeederResult


def weakest_bus(study: Studied, bus: str) -> tuple[str, BusFault] | None:
    """(state, bus) where the source side has the greatest impedance without motors; None where it is never known."""
    known = [(state, found) for state, faults in study.faults.items() if (found := faults.known.get(bus)) is not None]
    return max(known, key=lambda each: abs(each[1].z1_without_motors)) if known else None


def weakest_end(work: Work, study: Studied, feeder: FeederResult, bus: str) -> tuple[float, str] | None:
    """(A, state) of the smallest fault at the load end of a feeder over the states in which it carries the load."""
    node = work.network.nodes[feeder.target]
    system = node.line_system or node.system
    found = []
    for state in work.plan.states:
        end = study.faults[state.name].known.get(bus)
        carries = any(edge_id == feeder.id for edge_id, _ in supplies(work.network, state, feeder.target))
        if end is None or system is None or not carries:
            continue
        least = _least(currents(end.level, system, end.z1_without_motors, end.z0))
        if least is not None:
            found.append((least, state.name))
    return min(found, key=lambda each: each[0]) if found else None


def least_at_circuit_end(work: Work, node: Node, bus: BusFault, row: CircuitResult) -> float | None:
    """The smallest fault at the end of a branch circuit in A: to ground where its gear has a grounded conductor."""
    system, wires = node.system or node.line_system, row.conductors
    if system is None or wires is None or row.length_ft is None:
        return None
    if wires.r_ohm_per_kft is None or wires.x_ohm_per_kft is None:
        return None
    along = run_along(work, row.gear, circuit_place_ft(work.model.items.get(row.gear), row))
    if along is None:
        return None
    z = along + run_impedance(row.length_ft, wires.r_ohm_per_kft, wires.x_ohm_per_kft, wires.sets)
    key = "conductor_z0_multiple" if row.poles == 3 else "two_wire_z0_multiple"
    ground = None if bus.z0 is None else bus.z0 + z * assumption(work.edition, key)
    end = currents(bus.level, system, bus.z1_without_motors + z, ground)
    return _of_poles(end, row.poles, system)


def _of_poles(end: Currents, poles: int, system: VoltageSystem) -> float | None:
    if poles == 1 and system.has_neutral:
        return end.line_ground
    return _least(end)


def _least(found: Currents) -> float | None:
    known = [value for value in (found.three_phase, found.line_line, found.line_ground) if value is not None]
    return min(known) if known else None
