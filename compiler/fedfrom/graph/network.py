"""The power system as nodes and edges, and its view in each operating state."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from fedfrom.model.items import Feed, Item, Tie
from fedfrom.quantity import VoltageSystem


@dataclass(frozen=True, slots=True)
class Edge:
    """A connection from a source node to a load node.

    `id`: the feed's `feeder_id`, "TAG.inside" for gear bus-connected inside other gear, or the tie's tag.
    `kind`: "feed", "inside", "tie". `feed` is None for the last two.
    """

    id: str
    source: str
    target: str
    kind: str
    feed: Feed | None = None
    tie: Tie | None = None


@dataclass(frozen=True, slots=True)
class Node:
    """An item in the network.

    `role`: "source" (utility, generator), "bus" (gear), "transformer", "transfer" (transfer switch, ups, bypass).
    `system` is the voltage system at its outgoing side (a transformer's secondary, a utility's service voltage), None
    where unknown; `line_system` at its incoming side. `reachable`: some source feeds it in the normal state.
    """

    tag: str
    item: Item
    role: str
    system: VoltageSystem | None
    line_system: VoltageSystem | None
    reachable: bool = True


@dataclass(frozen=True, slots=True)
class Network:
    """Nodes by tag and edges by id, both in source order."""

    nodes: Mapping[str, Node]
    edges: Mapping[str, Edge]
    outgoing: Mapping[str, tuple[str, ...]]
    incoming: Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class State:
    """One operating state.

    `name` for readers ("Normal", "UT-1 lost", "Tie TIE closed, MSB-A main open"); `parent[node] = edge id` for every
    node that is fed by one edge (a tie may supply either of its ends); `parallel[node]` the edge ids of a node fed by
    several at once (`paralleling`, closed tie); `order` every energised node, sources first, parents before children;
    `dead` nodes without supply in this state.
    `derived` False for a state named in the text.
    """

    name: str
    lost: tuple[str, ...]
    opened: tuple[str, ...]
    closed: tuple[str, ...]
    parent: Mapping[str, str]
    order: tuple[str, ...]
    dead: tuple[str, ...]
    derived: bool = True
    parallel: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class StatePlan:
    """All operating states; the first one is "Normal"."""

    states: tuple[State, ...]

    @property
    def normal(self) -> State:
        return self.states[0]
