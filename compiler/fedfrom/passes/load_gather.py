"""Which loads each node carries in a state, seen in its own phases: gathered from below, never a sum of demands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from fedfrom.formulas.load_phases import PhaseLoad, add, place_on, scale
from fedfrom.formulas.load_units import apparent_va
from fedfrom.graph.network import Node, State
from fedfrom.graph.walk import children_of, supplies
from fedfrom.model.fact_reading import amount as fact_amount
from fedfrom.model.fact_reading import parts as fact_parts
from fedfrom.model.items import Fact, Status
from fedfrom.passes.connected import MEASURED, ConnectedLoad
from fedfrom.passes.load_kinds import traits
from fedfrom.passes.phase_mapping import letters_of, seen_from_source
from fedfrom.passes.work import Work
from fedfrom.quantity import Dimension, VoltageSystem


@dataclass(frozen=True, slots=True)
class Counted:
    """A load at a node: VA by conductor in the node's phases, and VA; less than the whole load where its supply is
    shared by paralleled sources or by two cords. `even_on` as `ConnectedLoad.even_on`, in the node's phases."""

    load: ConnectedLoad
    on_phases: PhaseLoad
    va: float
    even_on: PhaseLoad


@dataclass(frozen=True, slots=True)
class Gathered:
    """The loads at a node, whether all that hangs below could be read, and a key that is equal for equal contents.

    `method` the method line that holds here: the node's own, or that of the only thing that it feeds.
    """

    loads: tuple[Counted, ...]
    readable: bool
    key: int
    method: Fact | None = None


class Gatherer:
    """Gathers state by state; nodes with the same contents in two states get the same key."""

    def __init__(self, work: Work) -> None:
        self._work = work
        self._keys: dict[object, int] = {}
        self._cords = _cords(work)

    def gather(self, state: State) -> dict[str, Gathered]:
        """What each energised node carries in the state."""
        children = children_of(self._work.network, state)
        alone = self._alone(state)
        found: dict[str, Gathered] = {}
        for tag in reversed(state.order):
            found[tag] = self._node(state, tag, children[tag], found, alone)
        return found

    def _alone(self, state: State) -> frozenset[str]:
        """Tags of two-cord loads of which only one cord is live in the state: all of the load is on it."""
        alive = set(state.order)
        return frozenset(tag for tag, gears in self._cords.items() if sum(1 for gear in gears if gear in alive) == 1)

    def _node(
        self,
        state: State,
        tag: str,
        children: tuple[tuple[str, str], ...],
        found: Mapping[str, Gathered],
        alone: frozenset[str],
    ) -> Gathered:
        work = self._work
        node = work.network.nodes[tag]
        loads: list[Counted] = []
        marks: list[object] = [tag]
        readable = not node.item.unreadable
        for load in work.connected.get(tag, ()):
            if load.status is Status.DEMOLISH:
                continue
            whole = 1.0 if not load.cord else (2.0 if load.tag in alone else 1.0)
            share = 0.5 * whole if load.cord else 1.0
            on_phases = scale(load.on_phases, whole)
            even_on = on_phases if load.even_on == load.on_phases else scale(load.even_on, whole)
            loads.append(Counted(load, on_phases, (load.va or 0.0) * share, even_on))
            if load.cord:
                marks.append((load.tag, whole))
        for edge_id, child in children:
            below = found.get(child)
            edge = work.network.edges[edge_id]
            if below is None or (edge.feed is not None and edge.feed.verb == "connects to"):
                continue
            feeding = [entry for entry, _ in supplies(work.network, state, child)]
            if len(feeding) > 1 and edge.kind == "tie":
                continue
            ways = max(1, sum(1 for entry in feeding if work.network.edges[entry].kind != "tie"))
            phases = work.edge_phases.get(edge_id, "")
            child_node = work.network.nodes[child]
            if child_node.item.status is Status.DEMOLISH:
                continue
            loads.extend(_upwards(entry, child_node, phases, ways) for entry in below.loads)
            readable = readable and below.readable
            marks.append((edge_id, below.key, ways))
        loads = _merge_cords(_engineer_factors(node, _measured(work, node, loads)))
        key = self._keys.setdefault(tuple(marks), len(self._keys))
        return Gathered(tuple(loads), readable, key, self._method(node, children, found))

    def _method(self, node: Node, children: tuple[tuple[str, str], ...], found: Mapping[str, Gathered]) -> Fact | None:
        own = node.item.facts.first("method")
        if own is not None or self._work.connected.get(node.tag) or len(children) != 1:
            return own
        below = found.get(children[0][1])
        return below.method if below is not None else None


def _cords(work: Work) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for tag, loads in work.connected.items():
        for load in loads:
            if load.cord and load.tag and load.status is not Status.DEMOLISH:
                found.setdefault(load.tag, []).append(tag)
    return {tag: gears for tag, gears in found.items() if len(gears) > 1}


def _upwards(entry: Counted, child: Node, phases: str, ways: int) -> Counted:
    on_phases = seen_from_source(entry.on_phases, child, phases)
    even_on = on_phases if entry.even_on is entry.on_phases else seen_from_source(entry.even_on, child, phases)
    if ways == 1:
        return Counted(entry.load, on_phases, entry.va, even_on)
    shared = scale(on_phases, 1 / ways)
    even = shared if even_on is on_phases else scale(even_on, 1 / ways)
    return Counted(entry.load, shared, entry.va / ways, even)


def _merge_cords(loads: list[Counted]) -> list[Counted]:
    """At a node that supplies both cords of a load, it is one load."""
    first: dict[str, int] = {}
    merged: list[Counted] = []
    for entry in loads:
        if not entry.load.cord or not entry.load.tag:
            merged.append(entry)
        elif entry.load.tag in first:
            at = first[entry.load.tag]
            other = merged[at]
            both = add((other.on_phases, entry.on_phases))
            merged[at] = Counted(other.load, both, other.va + entry.va, both)
        else:
            first[entry.load.tag] = len(merged)
            merged.append(entry)
    return merged


# --- what stands at the node itself --------------------------------------------------------------------------------


def _measured(work: Work, node: Node, loads: list[Counted]) -> list[Counted]:
    """A measured demand takes the place of everything existing below; what is new stays on top (220.87)."""
    fact = node.item.facts.first("measured")
    if fact is None or node.system is None:
        return loads
    kept = [entry for entry in loads if entry.load.status is not Status.EXISTING]
    va = _power(fact, node.system, "measured")
    if va is None:
        return kept
    load = ConnectedLoad(
        key=f"{node.tag}#measured",
        gear=node.tag,
        tag="",
        name=f"Existing load of {node.tag}, measured",
        kind=MEASURED,
        status=Status.EXISTING,
        count=1,
        va=va,
        basis=f"{va / 1000:.1f} kVA measured",
        clause="220.87",
        power_factor=traits(work.edition, MEASURED).power_factor,
        span=fact.span,
    )
    letters = letters_of(node.system)
    on_phases = place_on(letters, va, to_neutral=len(letters) == 1)
    return [Counted(load, on_phases, va, on_phases), *kept]


def _power(fact: Fact, system: VoltageSystem, what: str) -> float | None:
    """VA of a fact in amperes, VA or W at the gear's system."""
    amperes = fact_amount(fact, Dimension.CURRENT)
    if amperes is not None:
        return apparent_va(amperes, system.line_to_line_v, system.phases or 1)
    va = fact_amount(fact, Dimension.APPARENT)
    return va if va is not None else fact_amount(fact, Dimension.REAL)


def _engineer_factors(node: Node, loads: list[Counted]) -> list[Counted]:
    """`demand KIND` and `managed KIND` of the gear: they go up the tree with the loads, since less cannot arrive above
    than passes here."""
    for fact in node.item.facts.all("demand"):
        kind, percent = _category(fact), fact_amount(fact, Dimension.PERCENT)
        if percent is not None:
            loads = [
                replace(entry, load=replace(entry.load, user_factor=percent / 100, user_reason=fact.reason))
                if entry.load.kind == kind
                else entry
                for entry in loads
            ]
    for fact in node.item.facts.all("managed"):
        kind = _category(fact)
        limit = _power(fact, node.system, "managed") if node.system is not None else None
        if limit is not None:
            loads = [
                replace(entry, load=replace(entry.load, managed=f"{node.tag} {kind}", managed_va=limit))
                if entry.load.kind == kind
                else entry
                for entry in loads
            ]
    return loads


def _category(fact: Fact) -> str:
    return next((value for name, value in fact_parts(fact) if isinstance(value, str) and name == "category"), "")
