"""A compiled design handed to pandapower, an independent solver that only tests know.

Faults: every state as a network of its own: sources, feeders, transformers, motors, told by resistance, reactance and
topology only. Voltages: every run as two buses at its own nominal volts, with the power that its current takes at the
voltage which the compiler says arrives: a power flow that finds the same voltage confirms it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from tests.support.bill_fixture import work_of

from fedfrom.graph.network import Edge, State
from fedfrom.graph.walk import supplies
from fedfrom.passes.drop import circuit_run, feeder_run
from fedfrom.passes.drop_run import Run
from fedfrom.passes.network_model import NetworkData, network_data
from fedfrom.passes.work import Work
from fedfrom.results.types import ConductorResult
from fedfrom.rules.registry import Design

KM_PER_KFT = 0.3048
GREATEST_C = 1.05  # the library's voltage factor below 1 kV in the "max" case with the 6 % tolerance


class NotForTheSolverError(Exception):
    """Something whose impedance is not known, or direct current."""


Place = tuple[str, str]  # (state, node)


@dataclass
class _Net:
    """Elements gathered first and created in one go: the library takes long for each single one."""

    volts: list[float] = field(default_factory=list)
    buses: dict[Place, int] = field(default_factory=dict)
    lines: list[tuple[int, int, float, float, float, int]] = field(default_factory=list)
    switches: list[tuple[int, int]] = field(default_factory=list)
    transformers: list[tuple[int, int, float, float, float]] = field(default_factory=list)
    sources: list[tuple[int, complex]] = field(default_factory=list)
    motors: list[tuple[int, float, float, float]] = field(default_factory=list)

    def bus(self, place: Place, volts: float) -> int:
        if place not in self.buses:
            self.buses[place] = len(self.volts)
            self.volts.append(volts)
        return self.buses[place]


def solved_impedances(*several: Design) -> tuple[dict[Place, complex], ...]:
    """The impedance of the source side at every node of every state that the solver finds, ohm, motors included.

    Several designs are islands of one network, as the library takes long to start one.
    """
    from pandapower import shortcircuit

    made = _Net()
    islands = []
    for design in several:
        made.buses = {}
        _gather(design, made)
        islands.append(made.buses)
    net = _create(made, GREATEST_C)
    net.trafo["power_station_unit"] = True  # no correction of transformers
    shortcircuit.calc_sc(net, fault="3ph", case="max", lv_tol_percent=6)
    found = net.res_bus_sc
    return tuple(
        {
            place: complex(found.rk_ohm.loc[bus], found.xk_ohm.loc[bus])
            for place, bus in island.items()
            if math.isfinite(found.ikss_ka.loc[bus])
        }
        for island in islands
    )


def default_currents(design: Design) -> dict[Place, float]:
    """What the library's default call says, A: with its own voltage factor and correction of transformers."""
    from pandapower import shortcircuit

    made = _Net()
    _gather(design, made)
    net = _create(made, 1.0)
    shortcircuit.calc_sc(net, fault="3ph", case="max")
    return {place: 1000 * float(net.res_bus_sc.ikss_ka.loc[bus]) for place, bus in made.buses.items()}


def _create(made: _Net, source_factor: float) -> Any:
    import pandapower as pp

    net = pp.create_empty_network(sn_mva=1.0, f_hz=60)
    pp.create_buses(net, len(made.volts), [volts / 1000 for volts in made.volts])
    for bus, z in made.sources:
        mva, rx = made.volts[bus] ** 2 / abs(z) / 1e6 * source_factor, z.real / z.imag
        pp.create_ext_grid(net, bus, s_sc_max_mva=mva, rx_max=rx, s_sc_min_mva=mva, rx_min=rx)
    if made.lines:
        start, end, length, r, x, sets = (list(column) for column in zip(*made.lines, strict=True))
        pp.create_lines_from_parameters(
            net, start, end, length_km=[feet / 1000 * KM_PER_KFT for feet in length],
            r_ohm_per_km=[each / KM_PER_KFT for each in r], x_ohm_per_km=[each / KM_PER_KFT for each in x],
            c_nf_per_km=0, max_i_ka=1, parallel=sets, endtemp_degree=20,
        )  # fmt: skip
    for first, second in made.switches:
        pp.create_switch(net, first, second, et="b", closed=True)
    for high, low, mva, percent, ratio in made.transformers:
        pp.create_transformer_from_parameters(
            net, high, low, sn_mva=mva, vn_hv_kv=made.volts[high] / 1000, vn_lv_kv=made.volts[low] / 1000,
            vk_percent=percent, vkr_percent=percent / math.hypot(1, ratio), pfe_kw=0, i0_percent=0, shift_degree=0,
        )  # fmt: skip
    for bus, full_load, multiple, ratio in made.motors:
        mva = math.sqrt(3) * made.volts[bus] * full_load / 1e6
        pp.create_motor(
            net, bus, pn_mech_mw=mva * 0.86 * 0.93, cos_phi=0.86, cos_phi_n=0.86, efficiency_n_percent=93,
            lrc_pu=multiple, rx=1 / ratio, vn_kv=made.volts[bus] / 1000,
        )  # fmt: skip
    return net


def _gather(design: Design, made: _Net) -> None:
    work = work_of(design)
    data = network_data(work)
    for state in work.plan.states:
        for tag in state.order:
            _add_node(work, data, state, made, tag)
        for tag, groups in data.motors.items():
            bus = made.buses.get((state.name, tag))
            amperes: dict[tuple[float, float], float] = {}
            for group in groups if bus is not None else ():
                kind = (group.contribution.multiple, group.contribution.x_over_r)
                # Single phase: half of the loop, as if the rating were larger by 2 / sqrt(3).
                scale = 1.0 if group.phases == 3 else 2 / math.sqrt(3)
                amperes[kind] = amperes.get(kind, 0.0) + group.full_load_a * scale
            made.motors += [(bus or 0, full_load, *kind) for kind, full_load in amperes.items()]


def _add_node(work: Work, data: NetworkData, state: State, made: _Net, tag: str) -> None:
    node, here = work.network.nodes[tag], (state.name, tag)
    arriving = (state.name, f"{tag}.primary") if node.role == "transformer" else here
    for edge_id, parent in supplies(work.network, state, tag):
        if (state.name, parent) in made.buses:
            _add_run(work, data, made, work.network.edges[edge_id], (state.name, parent), arriving)
    if node.role == "source":
        _add_source(work, data, made, here)
    if node.role == "transformer":
        _add_transformer(work, data, made, here)


def _add_source(work: Work, data: NetworkData, made: _Net, place: Place) -> None:
    system, z = work.network.nodes[place[1]].system, data.sources[place[1]].z1
    if system is not None and not system.is_dc and z is not None:
        made.sources.append((made.bus(place, system.line_to_line_v), z))


def _add_run(work: Work, data: NetworkData, made: _Net, edge: Edge, parent: Place, arriving: Place) -> None:
    wires, length = _wires(work, edge)
    source, feed = data.sources.get(parent[1]), edge.feed
    by_utility = feed is not None and "utility" in (feed.by, feed.conductors.wire.by)
    if source is not None and source.at_service_point and by_utility:
        length = 0.0
    start = made.buses[parent]
    if length == 0.0 and arriving not in made.buses:
        made.buses[arriving] = start
        return
    end = made.bus(arriving, made.volts[start])
    if length == 0.0:
        made.switches.append((start, end))
        return
    if wires is None or wires.r_ohm_per_kft is None or wires.x_ohm_per_kft is None or length is None:
        raise NotForTheSolverError(edge.id)
    made.lines.append((start, end, length, _cool(wires, wires.r_ohm_per_kft), wires.x_ohm_per_kft, wires.sets))


def _cool(wires: ConductorResult, r: float) -> float:
    """The resistance for the greatest fault, 20 C where Table 9 has 75 C; one that the text states is the maker's."""
    if "impedance" in wires.origins:
        return r
    return r * (254.5 / 309.5 if wires.material == "Cu" else 248.1 / 303.1)


def _wires(work: Work, edge: Edge) -> tuple[ConductorResult | None, float | None]:
    if edge.kind == "inside":
        return None, 0.0
    if edge.tie is not None:
        tie = work.ties[edge.id]
        return tie.conductors, edge.tie.length_ft.value if edge.tie.length_ft is not None else 0.0
    feeder = work.feeders[edge.id]
    return feeder.conductors, feeder.length_ft


def _add_transformer(work: Work, data: NetworkData, made: _Net, place: Place) -> None:
    state, tag = place
    system, known, kva = work.network.nodes[tag].system, data.transformers.get(tag), data.kva.get(tag)
    high = made.buses.get((state, f"{tag}.primary"))
    if system is None or system.is_dc or known is None or kva is None or high is None:
        return
    # Single phase: half of the loop, as if the rating were twice as large.
    mva = kva / 1000 * (1 if system.phases == 3 else 2)
    made.transformers.append((high, made.bus(place, system.line_to_line_v), mva, known.fault_percent, known.x_over_r))


# --- voltages ------------------------------------------------------------------------------------------------------


def runs_of(design: Design) -> dict[str, Run]:
    """Every two-conductor and three-phase run with a load: feeders by state, circuits by key."""
    work = work_of(design)
    found: dict[str, Run] = {}
    for state in work.plan.states:
        for tag in state.order:
            sharing = supplies(work.network, state, tag)
            for edge_id, _ in sharing:
                feeder = work.feeders.get(edge_id)
                run = feeder_run(work, feeder, state.name, len(sharing)) if feeder is not None else None
                if run is not None:
                    found[f"{edge_id} in {state.name}"] = run
    for rows in work.circuits.values():
        found.update({row.key: run for row in rows if (run := circuit_run(work, row)) is not None})
    return {name: run for name, run in found.items() if run.three_wire is None and _carries(run)}


def _carries(run: Run) -> bool:
    known = run.conductors.r_ohm_per_kft is not None and run.conductors.x_ohm_per_kft is not None
    return known and run.current_a > 0 and run.length_ft > 0 and run.drop() is not None


def flow_voltages(runs: Mapping[str, Run], lost: Mapping[str, float]) -> dict[str, float]:
    """Per-unit voltage at the end of each run by a power flow; `lost` the drop to neutral in V that it is told."""
    import pandapower as pp

    net = pp.create_empty_network(sn_mva=1.0, f_hz=60)
    # One sending bus at 1 kV, 1 per unit: each run's ohm are scaled by the square of its own volts.
    source = pp.create_bus(net, 1.0)
    pp.create_ext_grid(net, source)
    names = list(runs)
    ends = pp.create_buses(net, len(names), 1.0)
    r, x, p, q = [], [], [], []
    for name in names:
        run = runs[name]
        to_neutral = run.volts / (math.sqrt(3) if run.phases == 3 else 2)
        scale = (1000 / (math.sqrt(3) * to_neutral)) ** 2 * run.length_ft / 1000 / run.conductors.sets
        r.append((run.conductors.r_ohm_per_kft or 0) * scale)
        x.append((run.conductors.x_ohm_per_kft or 0) * scale)
        va = 3 * (to_neutral - lost[name]) * run.current_a / 1e6
        p.append(va * run.power_factor)
        q.append(va * math.sqrt(1 - run.power_factor**2))
    pp.create_lines_from_parameters(
        net, [source] * len(names), ends, length_km=1.0, r_ohm_per_km=r, x_ohm_per_km=x, c_nf_per_km=0, max_i_ka=1
    )
    pp.create_loads(net, ends, p_mw=p, q_mvar=q)
    pp.runpp(net, algorithm="nr", init="flat", tolerance_mva=1e-11, max_iteration=30)
    return {name: float(net.res_bus.vm_pu.loc[end]) for name, end in zip(names, ends, strict=True)}
