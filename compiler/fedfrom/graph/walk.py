"""The only place that iterates over the network: children, parents, paths, in source order."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping

from fedfrom.graph.network import Edge, Network, State

# Verbs of feeds that carry power towards the item that they are written in; "connects to" joins a parallel source.
SUPPLY_VERBS = frozenset({"fed from", "normal from", "emergency from", "alternate from", "bypass from"})


def far_end(edge: Edge, tag: str) -> str:
    """The node at the other end of an edge (a tie may be supplied from either end)."""
    return edge.source if edge.target == tag else edge.target


def supply_of(network: Network, state: State, tag: str) -> str | None:
    """The tag that feeds a node in a state, or None for a source, a dead or a parallel node."""
    edge_id = state.parent.get(tag)
    return None if edge_id is None else far_end(network.edges[edge_id], tag)


def supplies(network: Network, state: State, tag: str) -> tuple[tuple[str, str], ...]:
    """(edge id, feeding tag) of every supply of a node in a state: one, several where paralleled, none for a source."""
    edges = state.parallel.get(tag) or ((state.parent[tag],) if tag in state.parent else ())
    return tuple((edge_id, far_end(network.edges[edge_id], tag)) for edge_id in edges)


def children_of(network: Network, state: State) -> Mapping[str, tuple[tuple[str, str], ...]]:
    """For every energised node: (edge id, child tag) of what it feeds in the state, children in the state's order."""
    found: dict[str, list[tuple[str, str]]] = {tag: [] for tag in state.order}
    for child in state.order:
        for edge_id, parent in supplies(network, state, child):
            if parent in found:
                found[parent].append((edge_id, child))
    return {tag: tuple(children) for tag, children in found.items()}


def path_to_source(network: Network, state: State, tag: str) -> tuple[str, ...]:
    """The tags from a node up to its source, the node first; the first supply is followed where there are several."""
    path = [tag]
    seen = {tag}
    while True:
        above = next((parent for _, parent in supplies(network, state, path[-1])), None)
        if above is None or above in seen:
            return tuple(path)
        path.append(above)
        seen.add(above)


def below(network: Network, state: State, tag: str) -> Iterator[str]:
    """The node and everything that it feeds in the state, depth first in source order, each once."""
    children = children_of(network, state)
    stack, seen = [tag], set()
    while stack:
        here = stack.pop()
        if here in seen:
            continue
        seen.add(here)
        yield here
        stack.extend(child for _, child in reversed(children.get(here, ())))


def outgoing_edges(network: Network, tag: str) -> tuple[Edge, ...]:
    """Every edge that leaves a node, whatever the state, in source order."""
    return tuple(network.edges[edge_id] for edge_id in network.outgoing.get(tag, ()))


def incoming_edges(network: Network, tag: str) -> tuple[Edge, ...]:
    """Every edge that arrives at a node, whatever the state, in source order."""
    return tuple(network.edges[edge_id] for edge_id in network.incoming.get(tag, ()))


def each_after(tags: Iterable[str], earlier: Callable[[str], Iterable[str]]) -> tuple[str, ...]:
    """The tags and all that they lead to, each after its `earlier` ones; a circle is cut where it was entered."""
    order: dict[str, None] = {}
    for start in tags:
        stack = [(start, False)]
        opened: set[str] = set()
        while stack:
            tag, leaving = stack.pop()
            if leaving:
                order.setdefault(tag)
            elif tag not in order and tag not in opened:
                opened.add(tag)
                stack.append((tag, True))
                stack.extend((other, False) for other in reversed(tuple(earlier(tag))) if other not in order)
    return tuple(order)


def bottom_up(network: Network) -> tuple[str, ...]:
    """Every node after all that it feeds by a first choice (bus, normal), whatever the state; circles are cut."""

    def fed(tag: str) -> list[str]:
        return [edge.target for edge in outgoing_edges(network, tag) if is_first_choice(edge)]

    return each_after(network.nodes, fed)


def is_first_choice(edge: Edge) -> bool:
    """Whether an edge is closed in the normal state: gear inside gear, `fed from`, `normal from`."""
    return edge.kind == "inside" or (edge.feed is not None and edge.feed.verb in ("fed from", "normal from"))
