"""The network of one operating state as impedances: buses, links between them, sources and running motors.

Bus names: a node's tag is its outgoing bus; `primary_bus(tag)` is the incoming side of a transformer. Impedances are in
ohm to neutral at the bus's own voltage level (see `formulas/impedance.py` for single-phase levels).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fedfrom.formulas.voltage_drop import run_impedance
from fedfrom.graph.loops import closing_edges
from fedfrom.graph.network import Edge, Network, State
from fedfrom.graph.walk import supplies
from fedfrom.passes.busway import feed_place_ft, run_along
from fedfrom.passes.motors import MotorGroup, running_motors
from fedfrom.passes.practice import assumption
from fedfrom.passes.source_impedance import SourceImpedance, source_impedance
from fedfrom.passes.transformer_impedance import TransformerImpedance, transformer_impedance
from fedfrom.passes.work import Work
from fedfrom.quantity import Dimension, VoltageSystem
from fedfrom.results.types import ConductorResult

CLOSED_LOOP = "a supply that is no closed loop; loops are out of the method"
DC_FAULTS = "a method for DC faults, which is not covered"


def primary_bus(tag: str) -> str:
    """The bus at the incoming terminals of a transformer."""
    return f"{tag}.primary"


@dataclass(frozen=True, slots=True)
class Link:
    """A connection between two buses in one state. `z1` at the level of `load`; None: not known, `needs` says why.

    `transforms`: the level changes and the zero-sequence path ends here.
    """

    supply: str
    load: str
    z1: complex | None
    z0: complex | None
    needs: str = ""
    transforms: bool = False
    assumed: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class StateNetwork:
    """One state. `levels[bus]` the voltage system whose volts its impedances refer to; buses parents first.

    `grounded_z0[bus]` the zero-sequence impedance to ground of what makes the level (transformer); sources' own are in
    `sources`. `center_taps[bus]` the winding of a transformer with a tap at the middle of a winding (120/240 V,
    high-leg delta), whose Z0 depends on what lies ahead, and the loop of its half winding where that is stated.
    """

    buses: tuple[str, ...]
    links: tuple[Link, ...]
    levels: Mapping[str, VoltageSystem]
    sources: Mapping[str, SourceImpedance]
    motors: Mapping[str, tuple[MotorGroup, ...]]
    grounded_z0: Mapping[str, complex]
    center_taps: Mapping[str, tuple[complex, complex | None]]


@dataclass(frozen=True)
class NetworkData:
    """What is the same in every state: sources, transformers, motors."""

    sources: Mapping[str, SourceImpedance]
    transformers: Mapping[str, TransformerImpedance | None]
    kva: Mapping[str, float | None]
    motors: Mapping[str, tuple[MotorGroup, ...]]


def network_data(work: Work) -> NetworkData:
    """Gather what does not depend on the state."""
    sources: dict[str, SourceImpedance] = {}
    transformers: dict[str, TransformerImpedance | None] = {}
    kva: dict[str, float | None] = {}
    for tag, node in work.network.nodes.items():
        if node.role == "source":
            sources[tag] = source_impedance(work.edition, node)
        elif node.role == "transformer":
            kva[tag] = transformer_kva(work, tag)
            known = kva[tag]
            secondary = node.system
            if known is not None and secondary is not None and not secondary.is_dc:
                transformers[tag] = transformer_impedance(work.edition, node.item, known, secondary)
            else:
                transformers[tag] = None
    return NetworkData(sources, transformers, kva, running_motors(work))


def transformer_kva(work: Work, tag: str) -> float | None:
    """Rating in kVA of a transformer, also one inside other equipment: as sized, else as written, else None."""
    sized = work.transformers.get(tag)
    if sized is not None and sized.kva:
        return sized.kva
    written = work.network.nodes[tag].item.facts.amount("rating", dimension=Dimension.APPARENT)
    return written.value / 1000 if written is not None and written.value > 0 else None


def state_network(work: Work, data: NetworkData, state: State) -> StateNetwork:
    """The impedance network of one state."""
    builder = _Builder(work, data, state)
    for tag in state.order:
        builder.add_node(tag)
    return builder.finish()


class _Builder:
    def __init__(self, work: Work, data: NetworkData, state: State) -> None:
        self.work, self.data, self.state = work, data, state
        self.buses: list[str] = []
        self.links: list[Link] = []
        self.levels: dict[str, VoltageSystem] = {}
        self.sources: dict[str, SourceImpedance] = {}
        self.grounded_z0: dict[str, complex] = {}
        self.center_taps: dict[str, tuple[complex, complex | None]] = {}
        self.closing = closing_edges(work.network, state)

    def add_node(self, tag: str) -> None:
        node = self.work.network.nodes[tag]
        arriving = primary_bus(tag) if node.role == "transformer" else tag
        self.buses.append(arriving)
        for edge_id, parent in supplies(self.work.network, self.state, tag):
            self._add_edge(self.work.network.edges[edge_id], parent, arriving)
        if node.role == "source":
            self._add_source(tag, node.system)
        if node.role == "transformer":
            self._add_transformer(tag)

    def _add_source(self, tag: str, system: VoltageSystem | None) -> None:
        self.sources[tag] = self.data.sources[tag]
        if system is not None and tag not in self.levels:
            self.levels[tag] = system

    def _add_edge(self, edge: Edge, parent: str, arriving: str) -> None:
        both_ends = edge.tie is not None and edge.id in self.state.parallel.get(parent, ())
        if both_ends and parent not in self.buses:
            return  # a closed tie stands once, at the end that comes second
        if edge.id in self.closing:
            self.links.append(Link(parent, arriving, None, None, CLOSED_LOOP))
            return
        level = self.levels.get(parent)
        source = self.work.network.nodes[parent].system
        if level is None and source is not None and source.is_dc:
            self.links.append(Link(parent, arriving, None, None, DC_FAULTS))
            return
        if level is None:
            later = parent in self.state.order and parent not in self.buses
            needs = CLOSED_LOOP if later else "the voltage of what feeds it"
            self.links.append(Link(parent, arriving, None, None, needs))
            return
        self.levels.setdefault(arriving, level)
        node = self.work.network.nodes[arriving.removesuffix(".primary")]
        system = node.line_system or node.system
        if system is not None and _other_level(level, system):
            self.links.append(Link(parent, arriving, None, None, f"a transformer from {level.literal}"))
            return
        self.links.append(self._conductor_link(edge, parent, arriving, level))

    def _conductor_link(self, edge: Edge, parent: str, arriving: str, level: VoltageSystem) -> Link:
        z, needs = edge_impedance(self.work, edge)
        if z is None:
            return Link(parent, arriving, None, None, needs)
        source = self.data.sources.get(parent)
        if source is not None and source.at_service_point and _utility_conductors(edge):
            return Link(parent, arriving, 0j, 0j, note="the utility's conductors lie ahead of the service point")
        along = run_along(self.work, parent, feed_place_ft(self.work, edge.id)) if edge.feed is not None else 0j
        note = f"the impedance of {parent} up to {arriving} is not stated and is left out" if along is None else ""
        z += along or 0j
        key = "conductor_z0_multiple" if level.phases == 3 else "two_wire_z0_multiple"
        return Link(parent, arriving, z, z * assumption(self.work.edition, key), note=note)

    def _add_transformer(self, tag: str) -> None:
        node = self.work.network.nodes[tag]
        primary, secondary = primary_bus(tag), node.system
        self.buses.append(tag)
        if secondary is None or secondary.is_dc:
            needs = DC_FAULTS if secondary else f"the secondary voltage of {tag}"
            self.links.append(Link(primary, tag, None, None, needs, transforms=True))
            return
        self.levels[tag] = secondary
        data, kva = self.data.transformers.get(tag), self.data.kva.get(tag)
        if data is None or kva is None:
            what = "rating" if kva is None else "impedance"
            self.links.append(Link(primary, tag, None, None, f"the {what} of {tag}", transforms=True))
            return
        z = data.at_secondary(kva, secondary)
        note = f"{tag} {kva:g} kVA, {data.basis}"
        assumed = data.fault_percent != data.percent
        self.links.append(Link(primary, tag, z, None, transforms=True, assumed=assumed, note=note))
        if secondary.grounding != "solid":
            return
        if secondary.kind in ("single-phase", "high-leg delta"):
            self.center_taps[tag] = (z, data.half_loop(kva, secondary))
        else:
            self.grounded_z0[tag] = z * assumption(self.work.edition, "transformer_z0_multiple")

    def finish(self) -> StateNetwork:
        alive = set(self.buses)
        motors = {bus: groups for bus, groups in self.data.motors.items() if bus in alive}
        return StateNetwork(
            tuple(self.buses),
            tuple(self.links),
            self.levels,
            self.sources,
            motors,
            self.grounded_z0,
            self.center_taps,
        )


def edge_impedance(work: Work, edge: Edge) -> tuple[complex | None, str]:
    """R + jX of one conductor of a connection, or (None, what is missing). A bus connection has none (0)."""
    if edge.kind == "inside":
        return 0j, ""
    if edge.tie is not None:
        if edge.tie.length_ft is None:
            return 0j, ""
        tie = work.ties.get(edge.id)
        return _conductors_impedance(tie.conductors if tie else None, edge.tie.length_ft.value, edge.id)
    feeder = work.feeders.get(edge.id)
    if feeder is None:
        return None, f"the feeder {edge.id}"
    if feeder.length_ft is None:
        return None, f"the length of the feeder to {feeder.target}"
    return _conductors_impedance(feeder.conductors, feeder.length_ft, feeder.target)


def _conductors_impedance(
    conductors: ConductorResult | None, length_ft: float, target: str
) -> tuple[complex | None, str]:
    if length_ft == 0:
        return 0j, ""
    if conductors is None:
        return None, f"the conductors to {target}"
    if conductors.r_ohm_per_kft is None or conductors.x_ohm_per_kft is None:
        return None, f"the impedance of {conductors.phase} {conductors.material} to {target}"
    return run_impedance(length_ft, conductors.r_ohm_per_kft, conductors.x_ohm_per_kft, conductors.sets), ""


def _utility_conductors(edge: Edge) -> bool:
    feed = edge.feed
    return feed is not None and "utility" in (feed.by, feed.conductors.wire.by)


def _other_level(level: VoltageSystem, system: VoltageSystem) -> bool:
    """Whether gear of this system cannot be on that level without a transformer."""
    if system.is_dc or level.is_dc:
        return True
    volts = {level.line_to_line_v, level.line_to_neutral_v}
    return system.line_to_line_v not in volts


def feeding(network: Network, state: State, edge_id: str) -> str | None:
    """The tag that an edge feeds in a state, None where it carries nothing then."""
    for tag, parent_edge in state.parent.items():
        if parent_edge == edge_id:
            return tag
    for tag, edges in state.parallel.items():
        if edge_id in edges:
            return tag
    return None
