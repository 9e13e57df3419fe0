"""What is energised from where, for one set of lost sources, opened and closed devices."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from fedfrom.graph.network import Edge, Network
from fedfrom.graph.walk import far_end, incoming_edges

FIRST_CHOICE = ("fed from", "normal from")
# In the order in which a node turns to them when its first choice is dead.
SECOND_CHOICES = ("alternate from", "emergency from", "bypass from")


@dataclass(frozen=True, slots=True)
class Switching:
    """A wish: sources lost, mains and ties opened, ties closed, nodes put on another feed by hand (tag -> edge id).

    `opened` holds "TAG.main" and tie or feeder names; `both` the transfer switches that stand on both supplies at once
    (closed transition).
    """

    lost: frozenset[str] = frozenset()
    opened: frozenset[str] = frozenset()
    closed: frozenset[str] = frozenset()
    preferred: tuple[tuple[str, str], ...] = ()
    both: frozenset[str] = frozenset()


@dataclass
class Supplied:
    """The outcome: parent edge of each node, parallel edges, energised nodes in order, sources that were started."""

    parent: dict[str, str] = field(default_factory=dict)
    parallel: dict[str, tuple[str, ...]] = field(default_factory=dict)
    order: tuple[str, ...] = ()
    started: frozenset[str] = frozenset()


def standby_sources(network: Network) -> frozenset[str]:
    """Sources that stand still in the normal state.

    They reach, before any transfer switch, only its emergency, alternate or bypass side; a generator or a generator
    connection that feeds a normal side, or no switch at all, is prime power and runs.
    """
    return frozenset(
        tag
        for tag, node in network.nodes.items()
        if node.role == "source"
        and node.item.kind in ("generator", "generator connection")
        and _stands_by(network, tag)
    )


def _stands_by(network: Network, source: str) -> bool:
    stack, seen, second_choice = [source], {source}, False
    while stack:
        for edge_id in network.outgoing[stack.pop()]:
            edge = network.edges[edge_id]
            verb = edge.feed.verb if edge.feed else edge.kind
            if verb in SECOND_CHOICES:
                second_choice = True
            elif verb == "normal from":
                return False
            elif verb in ("fed from", "inside") and edge.target not in seen:
                seen.add(edge.target)
                stack.append(edge.target)
    return second_choice


def supply(network: Network, wish: Switching) -> Supplied:
    """Settles the network: sources run, nodes take their first live choice, standby sources start when called for."""
    standby = standby_sources(network)
    started: frozenset[str] = frozenset()
    while True:
        running = [
            tag
            for tag, node in network.nodes.items()
            if node.role == "source" and _delivers(network, tag) and tag not in wish.lost
            and (tag not in standby or tag in started)
        ]  # fmt: skip
        outcome = _energise(network, wish, running)
        called = _called_for(network, wish, outcome, standby, standby - started - wish.lost)
        if not called:
            outcome.started = started
            return outcome
        started |= called


def _delivers(network: Network, tag: str) -> bool:
    """PV and batteries that connect in parallel with the supply do not carry the network by themselves."""
    return not any(edge.feed is not None and edge.feed.verb == "connects to" for edge in incoming_edges(network, tag))


def _called_for(
    network: Network, wish: Switching, outcome: Supplied, standby: frozenset[str], waiting: frozenset[str]
) -> frozenset[str]:
    """Standby sources behind a second choice of a node that is dead or that was put on that feed by hand.

    A board that only standby sources feed first is dead because they rest; it calls for nothing by itself.
    """
    if not waiting:
        return frozenset()
    alive = set(outcome.order)
    preferred = dict(wish.preferred)
    called: set[str] = set()
    for tag in network.nodes:
        for edge in incoming_edges(network, tag):
            if edge.feed is None or edge.feed.verb not in SECOND_CHOICES or f"{tag}.main" in wish.opened:
                continue
            missed = tag not in alive and not _first_sources(network, tag) <= standby
            wanted = missed or preferred.get(tag) == edge.id or tag in wish.both
            if wanted and edge.source not in alive:
                first = _first_sources(network, edge.source) & waiting
                called |= first or sources_above(network, edge.source) & waiting
    return frozenset(called)


def sources_above(network: Network, tag: str) -> set[str]:
    stack, seen = [tag], {tag}
    while stack:
        for edge in incoming_edges(network, stack.pop()):
            if edge.kind != "tie" and edge.source not in seen:
                seen.add(edge.source)
                stack.append(edge.source)
    return {name for name in seen if network.nodes[name].role == "source"}


def _energise(network: Network, wish: Switching, running: Iterable[str]) -> Supplied:
    """Spreads from the running sources until all is settled: first choices, then ties, then one second choice."""
    outcome = Supplied()
    alive: dict[str, None] = dict.fromkeys(running)
    preferred = dict(wish.preferred)
    while True:
        if _spread(network, wish, outcome, alive, preferred):
            continue
        if _spread_ties(network, wish, outcome, alive):
            continue
        if not _take_second_choice(network, wish, outcome, alive, preferred):
            break
    _add_parallel(network, wish, outcome, alive)
    outcome.order = _ordered(network, outcome, alive)
    return outcome


def _spread(
    network: Network, wish: Switching, outcome: Supplied, alive: dict[str, None], preferred: dict[str, str]
) -> bool:
    """Energises what a first choice reaches; True when anything was."""
    changed = False
    for tag in network.nodes:
        edge = None if tag in alive else _live_choice(network, wish, alive, preferred, tag, FIRST_CHOICE)
        if edge is not None:
            alive[tag] = None
            outcome.parent[tag] = edge.id
            changed = True
    return changed


def _take_second_choice(
    network: Network, wish: Switching, outcome: Supplied, alive: dict[str, None], preferred: dict[str, str]
) -> bool:
    """Puts one dead node on its second choice: the first that does not hang below another such node."""
    choices = {
        tag: edge
        for tag in network.nodes
        if tag not in alive and (edge := _live_choice(network, wish, alive, preferred, tag, SECOND_CHOICES)) is not None
    }
    for tag, edge in choices.items():
        if _first_choice_ancestors(network, tag) & choices.keys() - {tag}:
            continue
        alive[tag] = None
        outcome.parent[tag] = edge.id
        return True
    for tag, edge in choices.items():
        alive[tag] = None
        outcome.parent[tag] = edge.id
        return True
    return False


def _first_sources(network: Network, tag: str) -> set[str]:
    """The sources that feed a node through first choices only."""
    return {above for above in _first_choice_ancestors(network, tag) if network.nodes[above].role == "source"}


def _first_choice_ancestors(network: Network, tag: str) -> set[str]:
    stack, seen = [tag], {tag}
    while stack:
        for edge in incoming_edges(network, stack.pop()):
            first = edge.kind == "inside" or (edge.feed is not None and edge.feed.verb in FIRST_CHOICE)
            if first and edge.source not in seen:
                seen.add(edge.source)
                stack.append(edge.source)
    return seen


def _live_choice(
    network: Network,
    wish: Switching,
    alive: dict[str, None],
    preferred: dict[str, str],
    tag: str,
    verbs: tuple[str, ...],
) -> Edge | None:
    edges = incoming_edges(network, tag)
    if tag in preferred:
        chosen = network.edges[preferred[tag]]
        return chosen if chosen.source in alive else None
    for verb in verbs:
        for edge in edges:
            if edge.source in alive and _matches(edge, verb) and _is_closed(edge, wish):
                return edge
    return None


def _matches(edge: Edge, verb: str) -> bool:
    if edge.kind == "inside":
        return verb == "fed from"
    if edge.feed is None:
        return False
    # A parallel source hangs on the gear that it connects to.
    return edge.feed.verb == verb or (edge.feed.verb == "connects to" and verb == "fed from")


def _is_closed(edge: Edge, wish: Switching) -> bool:
    """A feed is open when its load end's main, or the feeder's own device, is opened."""
    return f"{edge.target}.main" not in wish.opened and edge.id not in wish.opened and edge.target not in wish.opened


def tie_is_closed(edge: Edge, wish: Switching) -> bool:
    """A tie stands as drawn unless the state opens or closes it."""
    assert edge.tie is not None
    if edge.id in wish.opened:
        return False
    return edge.id in wish.closed or not edge.tie.normally_open


def _spread_ties(network: Network, wish: Switching, outcome: Supplied, alive: dict[str, None]) -> bool:
    for edge in network.edges.values():
        if edge.tie is None or not tie_is_closed(edge, wish):
            continue
        ends = [tag for tag in (edge.source, edge.target) if tag in alive]
        if len(ends) == 1:
            dead = far_end(edge, ends[0])
            alive[dead] = None
            outcome.parent[dead] = edge.id
            return True
    return False


def _add_parallel(network: Network, wish: Switching, outcome: Supplied, alive: dict[str, None]) -> None:
    """Nodes that several live supplies feed at once: `paralleling` gear, and the two ends of a closed tie."""
    for tag, node in network.nodes.items():
        if tag not in alive or not node.item.paralleling:
            continue
        live = tuple(
            edge.id
            for edge in incoming_edges(network, tag)
            if edge.source in alive and _matches(edge, "fed from") and _is_closed(edge, wish)
        )
        if len(live) > 1:
            outcome.parallel[tag] = live
    for tag in network.nodes:
        if tag in alive and tag in wish.both:
            live = tuple(edge.id for edge in transfer_feeds(network, tag) if edge.source in alive)
            if len(live) > 1:
                outcome.parallel[tag] = live
    for edge in network.edges.values():
        if edge.tie is None or not tie_is_closed(edge, wish) or edge.id in outcome.parent.values():
            continue
        if edge.source in alive and edge.target in alive:
            for tag in (edge.source, edge.target):
                supplies = outcome.parallel.get(tag) or ((outcome.parent[tag],) if tag in outcome.parent else ())
                outcome.parallel[tag] = (*supplies, edge.id)


def transfer_feeds(network: Network, tag: str) -> list[Edge]:
    """The normal and the emergency feed of a transfer switch."""
    verbs = ("normal from", "emergency from")
    return [edge for edge in incoming_edges(network, tag) if edge.feed is not None and edge.feed.verb in verbs]


def _ordered(network: Network, outcome: Supplied, alive: dict[str, None]) -> tuple[str, ...]:
    """Sources first, then every node after all that feed it, each level in source order."""
    order: list[str] = []
    placed: set[str] = set()
    waiting = [tag for tag in network.nodes if tag in alive]
    while waiting:
        later = []
        for tag in waiting:
            above = _feeding(network, outcome, tag)
            if all(parent in placed for parent in above):
                order.append(tag)
                placed.add(tag)
            else:
                later.append(tag)
        if len(later) == len(waiting):
            order.extend(later)
            break
        waiting = later
    return tuple(order)


def _feeding(network: Network, outcome: Supplied, tag: str) -> list[str]:
    """The nodes that must stand before this one; a closed tie between two live buses orders nothing."""
    tie_only = [edge_id for edge_id in outcome.parallel.get(tag, ()) if network.edges[edge_id].kind == "tie"]
    edges = outcome.parallel.get(tag) or ((outcome.parent[tag],) if tag in outcome.parent else ())
    return [far_end(network.edges[e], tag) for e in edges if e not in tie_only or outcome.parent.get(tag) == e]
