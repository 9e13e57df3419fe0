"""`build_network`: the model as nodes and edges, with the voltage system of every node."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from fedfrom.findings import Finding, Label, Severity
from fedfrom.graph.connection import connect
from fedfrom.graph.network import Edge, Network, Node
from fedfrom.graph.systems import node_systems
from fedfrom.graph.walk import SUPPLY_VERBS, is_first_choice
from fedfrom.model.items import Feed, Item, Load, Model, Status

SOURCE_KINDS = frozenset({"utility", "generator", "pv", "battery", "generator connection"})
TRANSFORMER_KINDS = frozenset({"transformer", "pdu", "isolated power panel", "rectifier"})
TRANSFER_KINDS = frozenset({"transfer switch", "ups", "maintenance bypass"})
# Items that are not part of the power path.
OUTSIDE_KINDS = frozenset({"contactor", "room", "tie"})


def role_of(item: Item) -> str:
    """The role of an item in the network; a generator connection with a feed of its own is a bus."""
    if item.kind in SOURCE_KINDS and not (item.kind == "generator connection" and item.feeds):
        return "source"
    if item.kind in TRANSFORMER_KINDS:
        return "transformer"
    return "transfer" if item.kind in TRANSFER_KINDS else "bus"


def build_network(model: Model) -> tuple[Network, tuple[Finding, ...]]:
    """Nodes, edges and voltage systems of the model, and what is wrong with them: circles, feeds
    from demolished or future gear, volts that the source does not offer, loads that do not fit their gear."""
    items = {tag: item for tag, item in model.items.items() if item.kind not in OUTSIDE_KINDS}
    edges = _edges(model, items)
    outgoing, incoming = _ends(items, edges)
    cycles = _cycles(items, edges)
    systems, voltage_findings = node_systems(items, edges, incoming)
    reachable = _reachable(items, edges, outgoing)
    nodes = {
        tag: Node(tag, item, role_of(item), *systems[tag], reachable=tag in reachable) for tag, item in items.items()
    }
    network = Network(nodes, edges, outgoing, incoming)
    findings = [
        *(_own_feed_finding(item, feed) for item in items.values() for feed in item.feeds if feed.source == item.tag),
        *(_cycle_finding(items, cycle) for cycle in cycles),
        *_status_findings(network),
        *voltage_findings,
        *_load_findings(network),
    ]
    return network, tuple(_with_edition(finding, model.project.code.value) for finding in findings)


def _with_edition(finding: Finding, code: str) -> Finding:
    return replace(finding, clause=f"{code}, {finding.clause}") if finding.clause else finding


def _edges(model: Model, items: Mapping[str, Item]) -> dict[str, Edge]:
    edges: dict[str, Edge] = {}
    for tag, item in items.items():
        if item.enclosing and item.enclosing in items:
            edge = Edge(f"{tag}.inside", item.enclosing, tag, "inside")
            edges[edge.id] = edge
        for feed in item.feeds:
            if feed.source in items and feed.source != tag:
                edges[feed.feeder_id] = Edge(feed.feeder_id, feed.source, tag, "feed", feed)
    for tie in model.ties:
        if tie.ends[0] in items and tie.ends[1] in items:
            edges[tie.tag] = Edge(tie.tag, tie.ends[0], tie.ends[1], "tie", None, tie)
    return edges


def _ends(items: Iterable[str], edges: Mapping[str, Edge]) -> tuple[dict[str, tuple[str, ...]], ...]:
    tags = list(items)
    outgoing: dict[str, list[str]] = {tag: [] for tag in tags}
    incoming: dict[str, list[str]] = {tag: [] for tag in tags}
    for edge in edges.values():
        outgoing[edge.source].append(edge.id)
        incoming[edge.target].append(edge.id)
    return (
        {tag: tuple(ids) for tag, ids in outgoing.items()},
        {tag: tuple(ids) for tag, ids in incoming.items()},
    )


def _supplies(edge: Edge) -> bool:
    return edge.kind == "inside" or (edge.feed is not None and edge.feed.verb in SUPPLY_VERBS)


def _cycles(items: Mapping[str, Item], edges: Mapping[str, Edge]) -> list[tuple[str, ...]]:
    """One circle for each knot of gear that feeds itself, starting at its first item in source order.

    The library is loaded only when there is a circle to name.
    """
    if not _has_circle(items, edges):
        return []
    import networkx as nx

    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(items)
    graph.add_edges_from((edge.source, edge.target) for edge in edges.values() if is_first_choice(edge))
    position = {tag: number for number, tag in enumerate(items)}
    circles = []
    for knot in nx.strongly_connected_components(graph):
        if len(knot) < 2:
            continue
        first = min(knot, key=position.__getitem__)
        below = min((tag for tag in graph.successors(first) if tag in knot), key=position.__getitem__)
        path = nx.shortest_path(graph.subgraph(knot), below, first)
        circles.append((first, *path[:-1]))
    return sorted(circles, key=lambda circle: position[circle[0]])


def _has_circle(items: Iterable[str], edges: Mapping[str, Edge]) -> bool:
    """Whether anything is left when everything that nothing feeds is taken away, again and again."""
    feeds: dict[str, list[str]] = {tag: [] for tag in items}
    waiting = dict.fromkeys(feeds, 0)
    for edge in edges.values():
        if is_first_choice(edge):
            feeds[edge.source].append(edge.target)
            waiting[edge.target] += 1
    free = [tag for tag, count in waiting.items() if count == 0]
    taken = 0
    while free:
        taken += 1
        for target in feeds[free.pop()]:
            waiting[target] -= 1
            if waiting[target] == 0:
                free.append(target)
    return taken < len(waiting)


def _cycle_finding(items: Mapping[str, Item], cycle: tuple[str, ...]) -> Finding:
    first = items[cycle[0]]
    closing = next((feed for feed in first.feeds if feed.source == cycle[-1]), None)
    round_trip = " -> ".join((*cycle, cycle[0]))
    return Finding(
        rule="radial-states",
        severity=Severity.ERROR,
        subject=first.tag,
        message=f"{first.tag} feeds itself: {round_trip}",
        span=closing.source_span if closing else first.tag_span,
        label="this closes the circle",
        related=tuple(Label(items[tag].tag_span, f"{tag} is part of the circle") for tag in cycle[1:]),
        help="feed one of them from a source, or write the second way in as `alternate from`",
    )


def _own_feed_finding(item: Item, feed: Feed) -> Finding:
    """The smallest circle; it is no connection of the network, so that nothing is computed through it."""
    return Finding(
        rule="radial-states",
        severity=Severity.ERROR,
        subject=item.tag,
        message=f"{item.tag} feeds itself",
        span=feed.source_span,
        label="its own tag",
        help=f"write the tag of the gear that feeds {item.tag}",
    )


def _reachable(
    items: Mapping[str, Item], edges: Mapping[str, Edge], outgoing: Mapping[str, tuple[str, ...]]
) -> frozenset[str]:
    """Everything that some source supplies by a feed, whichever, or through a tie."""
    seen = {tag for tag, item in items.items() if role_of(item) == "source"}
    ties = [edge for edge in edges.values() if edge.kind == "tie"]
    stack = list(seen)
    while stack:
        here = stack.pop()
        nearby = [edges[edge_id].target for edge_id in outgoing[here] if _supplies(edges[edge_id])]
        for tie in ties:
            if here in (tie.source, tie.target):
                nearby.append(tie.target if tie.source == here else tie.source)
        for tag in nearby:
            if tag not in seen:
                seen.add(tag)
                stack.append(tag)
    return frozenset(seen)


def _status_findings(network: Network) -> list[Finding]:
    """Gear that stays or is new must not hang on gear that goes or does not exist yet."""
    findings = []
    for edge in network.edges.values():
        if edge.feed is None or edge.feed.verb not in SUPPLY_VERBS:
            continue
        source, target = network.nodes[edge.source].item, network.nodes[edge.target].item
        gone = source.status is Status.DEMOLISH and target.status is not Status.DEMOLISH
        not_yet = source.status is Status.FUTURE and target.status not in (Status.FUTURE, Status.DEMOLISH)
        if not (gone or not_yet):
            continue
        word = "demolished" if gone else "future"
        findings.append(
            Finding(
                rule="status-consistent",
                severity=Severity.ERROR,
                subject=target.tag,
                message=f"{target.tag} is {target.status.value} and fed from {word} {source.tag}",
                span=edge.feed.source_span,
                related=(Label(source.tag_span, f"{source.tag} is {word}"),),
                help=f"feed {target.tag} from gear that stays, or give it the same status",
            )
        )
    return findings


def _load_findings(network: Network) -> list[Finding]:
    """Loads whose volts or phases their gear does not offer."""
    findings: list[Finding | None] = []
    for node in network.nodes.values():
        if node.system is None:
            continue
        for load in node.item.loads:
            findings.extend(_load_finding(node, load, part) for part in (load.parts or (load,)))
    return [finding for finding in findings if finding is not None]


def _load_finding(node: Node, load: Load, part: Load) -> Finding | None:
    assert node.system is not None
    poles = len(load.positions)
    if load.multiwire or (part is not load and poles > 1):
        poles = 0
    elif load.count > 1 and poles % load.count == 0:
        poles //= load.count
    problem = connect(part, node.system, poles)
    if not isinstance(problem, str):
        return None
    what = f"{part.kind} {part.tag or quoted(part.name) or quoted(load.name)}".strip()
    place = part.volts.span if part.volts and part.volts.span else part.span
    where = node.item.system.span if node.item.system and node.item.system.span else node.item.tag_span
    return Finding(
        rule="voltage-match",
        severity=Severity.ERROR,
        subject=f"{node.tag} {load.tag or quoted(load.name)}".strip(),
        message=f"{what} {problem}",
        span=place,
        related=(Label(where, f"{node.tag} is {node.system.literal}"),),
        help=f"give volts and phases that {node.tag} offers ({node.system.literal}), or move the load to other gear",
        clause="110.4",
    )


def quoted(text: str) -> str:
    """A name in the quotes that it is written in, or nothing for an empty one."""
    return f'"{text}"' if text else ""
