"""What each feeder is and what it must carry: kind, system, currents in its worst state. No device or size yet."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fedfrom.formulas.load_phases import terminals
from fedfrom.formulas.three_wire_drop import ThreeWireLoad
from fedfrom.graph.network import Edge, Node
from fedfrom.graph.walk import incoming_edges
from fedfrom.model.fact_reading import amount
from fedfrom.model.items import Feed, Item
from fedfrom.passes.work import Work
from fedfrom.quantity import Dimension, VoltageSystem
from fedfrom.results.types import NodeLoad
from fedfrom.tables.lookup import choice

LUG_POINTS = frozenset({"feed-through lugs", "sub-feed lugs"})
# Equipment whose `rating` says what its input takes, whatever hangs on it.
INPUT_RATED_KINDS = frozenset({"ups", "rectifier"})


@dataclass(frozen=True, slots=True)
class FeederPlan:
    """One feeder before sizing.

    `kind` as in `FeederResult`. `volts` between its conductors. `design_a` with 125 % of continuous load and growth,
    `carried_a` the same without the 25 %, `demand_a` without growth; None where some load is not known. `state` is the
    one that governs. `drop_cases` current, power factor and the loads of a three-wire single-phase run by state.
    `capacity_a` the rated current of a generator, transformer or UPS at one end, where that governs.
    """

    edge: Edge
    feed: Feed
    kind: str
    source: Node
    target: Node
    system: VoltageSystem | None
    phases: int
    ungrounded: int
    volts: float
    design_a: float | None
    carried_a: float | None
    demand_a: float | None
    power_factor: float | None
    state: str
    drop_cases: tuple[tuple[float, float, ThreeWireLoad | None], ...]
    capacity_a: float | None = None

    @property
    def subject(self) -> str:
        """The start of the subjects of its derivations: "DP1.feeder", "ATS1.normal.feeder"."""
        return f"{self.feed.feeder_id}.feeder"


def plan_feeder(work: Work, edge: Edge, with_growth: bool = True) -> FeederPlan:
    """The plan of one feed. Without growth for checks: what is written must carry the load that is there."""
    assert edge.feed is not None
    source, target = work.network.nodes[edge.source], work.network.nodes[edge.target]
    backwards = edge.feed.verb == "connects to"
    system = source.system or target.line_system or target.system if not backwards else source.system
    phases, ungrounded, volts = _conductors_of(edge.feed, target, system)
    kind = _kind(edge.feed, source)
    capacity = _capacity(work, kind, source, target, volts, phases, backwards)
    load = None if backwards else work.node_load(target.tag)
    design = carried = demand = factor = None
    if load is not None and load.complete:
        design, carried, demand = _currents(load, target, volts, phases, with_growth)
        factor = load.power_factor
    if backwards and capacity is not None:
        design, carried, demand, factor = 1.25 * capacity, capacity, capacity, 1.0
    return FeederPlan(
        edge,
        edge.feed,
        kind,
        source,
        target,
        system,
        phases,
        ungrounded,
        volts,
        design,
        carried,
        demand,
        factor,
        load.state if load else "",
        () if backwards else _drop_cases(work, target, volts, phases),
        capacity,
    )


def _kind(feed: Feed, source: Node) -> str:
    if source.item.kind == "utility" or feed.point == "ahead of main":
        return "service"
    if source.item.kind in ("generator", "generator connection") and source.role == "source":
        return "generator"
    if source.role == "transformer":
        return "secondary"
    return "tap" if feed.point == "tap" or (source.item.kind == "wireway" and feed.device is None) else "feeder"


def _conductors_of(feed: Feed, target: Node, system: VoltageSystem | None) -> tuple[int, int, float]:
    """(phases, ungrounded conductors, volts between them) of a feed."""
    own = target.line_system if target.role in ("transformer", "transfer") else target.system
    own = own or system
    if own is None:
        return (feed.phases or 3), (3 if (feed.phases or 3) == 3 else 2), feed.volts.value if feed.volts else 0.0
    phases = feed.phases or (3 if own.phases == 3 else 1)
    volts = feed.volts.value if feed.volts else own.line_to_line_v
    if phases == 3:
        return 3, 3, volts
    to_neutral = system is not None and system.has_neutral and abs(volts - system.line_to_neutral_v) < 0.5
    single = to_neutral or (own.kind == "two-wire" and own.has_neutral)
    return 1, (1 if single else 2), volts


def _currents(
    load: NodeLoad, target: Node, volts: float, phases: int, with_growth: bool = True
) -> tuple[float, float, float]:
    """(design with growth, the same without the 25 % of continuous load, demand) in A at the feeder's own volts."""
    growth = load.design_with_growth_a / load.design_a if with_growth and load.design_a > 0 else 1.0
    if target.role == "transformer":
        divisor = volts * (math.sqrt(3) if phases == 3 else 1.0)
        demand = load.demand_va / divisor if divisor else 0.0
        return (
            (load.demand_va + 0.25 * load.continuous_va) / divisor * growth if divisor else 0.0,
            demand * growth,
            demand,
        )
    return load.design_a * growth, load.demand_a * growth, load.demand_a


def three_wire_load(load: NodeLoad, target: Node) -> ThreeWireLoad | None:
    """The load of a node on a single-phase three-wire supply by conductor, None on any other supply."""
    system = target.system
    if system is None or target.role == "transformer" or system.wires != 3 or len(load.conductor_va) != 7:
        return None
    if system.kind not in ("single-phase", "single-phase-of-wye"):
        return None
    a, b, _ = terminals(system.kind, system.line_to_line_v, system.line_to_neutral_v)
    return ThreeWireLoad(a, b, load.conductor_va[0], load.conductor_va[1], load.conductor_va[3])


def _drop_cases(
    work: Work, target: Node, volts: float, phases: int
) -> tuple[tuple[float, float, ThreeWireLoad | None], ...]:
    cases = []
    for load in (work.loads.get(target.tag) or {}).values():
        if load.complete:
            _, _, demand = _currents(load, target, volts, phases)
            factor = min(1.0, load.power_factor) if load.power_factor > 0 else 1.0
            cases.append((demand, factor, three_wire_load(load, target)))
    return tuple(dict.fromkeys(cases))


def _capacity(
    work: Work, kind: str, source: Node, target: Node, volts: float, phases: int, backwards: bool
) -> float | None:
    if kind == "generator":
        return rated_current_of(work, source.item, volts, phases)
    if backwards or target.item.kind in INPUT_RATED_KINDS:
        return rated_current_of(work, target.item, volts, phases)
    return rated_current_of(work, source.item, volts, phases) if source.item.kind == "ups" else None


def rated_current_of(work: Work, item: Item, volts: float, phases: int) -> float | None:
    """The rated current in A of a generator, UPS or converter from its `rating`, None where it has none.

    kVA directly; kW over 0.8 power factor for a generator (common practice), over 1.0 for others; A as they are.
    """
    fact = item.facts.first("rating")
    amperes = amount(fact, Dimension.CURRENT)
    if amperes is not None:
        return amperes
    va = amount(fact, Dimension.APPARENT)
    watts = amount(fact, Dimension.REAL)
    if va is None and watts is not None:
        va = watts / (float(choice(work.edition, "generator_power_factor")) if item.kind == "generator" else 1.0)
    divisor = volts * (math.sqrt(3) if phases == 3 else 1.0)
    return None if va is None or divisor <= 0 else va / divisor


def supply_edges(work: Work, tag: str) -> tuple[Edge, ...]:
    """The feeds that bring power to a node, whatever the state (not what connects to it)."""
    return tuple(
        edge
        for edge in incoming_edges(work.network, tag)
        if edge.kind == "inside" or (edge.feed is not None and edge.feed.verb != "connects to")
    )
