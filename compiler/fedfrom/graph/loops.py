"""Wires that close a loop in one state: out of the method, as the currents then divide by impedance."""

from __future__ import annotations

from fedfrom.graph.network import Network, State
from fedfrom.graph.walk import supplies


def closing_edges(network: Network, state: State) -> frozenset[str]:
    """The ids of the connections that join two nodes which others join already; sources in parallel make no loop."""
    joined: dict[str, str] = {}
    seen: set[str] = set()
    closing: set[str] = set()
    for tag in state.order:
        for edge_id, parent in supplies(network, state, tag):
            if edge_id in seen:
                continue
            seen.add(edge_id)
            first, second = _root(joined, parent), _root(joined, tag)
            if first == second:
                closing.add(edge_id)
            else:
                joined[second] = first
    return frozenset(closing)


def _root(joined: dict[str, str], tag: str) -> str:
    while tag in joined:
        tag = joined[tag]
    return tag
