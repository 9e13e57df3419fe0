"""The voltage system of every node: written, or inherited from the source through the feed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from fedfrom.findings import Finding, Label, Severity
from fedfrom.graph.network import Edge
from fedfrom.graph.voltages import available, offered, tap_of
from fedfrom.graph.walk import each_after
from fedfrom.model.items import Feed, Item, Tie
from fedfrom.quantity import VoltageSystem
from fedfrom.source import Span

Systems = tuple[VoltageSystem | None, VoltageSystem | None]  # outgoing side, incoming side


@dataclass
class _Resolver:
    items: Mapping[str, Item]
    edges: Mapping[str, Edge]
    incoming: Mapping[str, tuple[str, ...]]
    found: dict[str, Systems] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)


def node_systems(
    items: Mapping[str, Item], edges: Mapping[str, Edge], incoming: Mapping[str, tuple[str, ...]]
) -> tuple[dict[str, Systems], tuple[Finding, ...]]:
    """(outgoing, incoming) system of every node; None where unknown. A mismatch is a finding with both places."""
    resolver = _Resolver(items, edges, incoming)
    for tag in _sources_first(items, edges, incoming):
        resolver.found[tag] = _resolve(resolver, tag)
    for edge in edges.values():
        if edge.tie is not None:
            _check_tie(resolver, edge, edge.tie)
    return {tag: resolver.found[tag] for tag in items}, tuple(resolver.findings)


def _sources_first(
    items: Mapping[str, Item], edges: Mapping[str, Edge], incoming: Mapping[str, tuple[str, ...]]
) -> tuple[str, ...]:
    """Every tag after the gear that feeds it; gear in a circle comes in source order."""

    def above(tag: str) -> list[str]:
        return [edges[edge_id].source for edge_id in incoming[tag] if edges[edge_id].kind != "tie"]

    return each_after(items, above)


def _resolve(resolver: _Resolver, tag: str) -> Systems:
    item = resolver.items[tag]
    arriving: VoltageSystem | None = None
    for edge_id in resolver.incoming[tag]:
        edge = resolver.edges[edge_id]
        if edge.kind == "tie":
            continue
        offered_here = _arriving(resolver, edge, item)
        if offered_here is None:
            continue
        if arriving is None:
            arriving = offered_here
        elif arriving.literal != offered_here.literal:
            _two_sources_differ(resolver, edge, item, arriving, offered_here)
    written = item.system.value if item.system else None
    if item.secondary is not None:
        return item.secondary.value, _primary_of(item.secondary.value, arriving or written)
    if item.kind == "transformer":  # what it gives is a fact that is not said, or could not be read
        return None, arriving or written
    return written or arriving, arriving or written


def _primary_of(secondary: VoltageSystem, arriving: VoltageSystem | None) -> VoltageSystem | None:
    """A transformer with a single-phase secondary takes two lines of a three-phase source."""
    if arriving is not None and arriving.phases == 3 and secondary.phases == 1:
        return tap_of(arriving, arriving.line_to_line_v, 1)
    return arriving


def _arriving(resolver: _Resolver, edge: Edge, item: Item) -> VoltageSystem | None:
    """The system at the load end of an edge, as far as the source is known."""
    source = resolver.found.get(edge.source, (None, None))[0]
    if source is None:
        return item.system.value if item.system and item.secondary is None else None
    feed = edge.feed
    if feed is not None and feed.volts is not None:
        taken = tap_of(source, feed.volts.value, feed.phases or (source.phases or 1))
        if taken is None:
            phases = f" {feed.phases}-phase" if feed.phases else ""
            _mismatch(resolver, edge, item, source, f"{feed.volts.value:g} V{phases}", feed)
            return None
        source = taken
    elif feed is not None and feed.phases == 1 and source.phases == 3:
        taken = tap_of(source, source.line_to_line_v, 1)
        source = taken if taken is not None else source
    if item.system is None or item.secondary is not None:
        return source
    if available(source, item.system.value):
        return item.system.value
    _mismatch(resolver, edge, item, source, item.system.value.literal, feed)
    return item.system.value


def _mismatch(
    resolver: _Resolver, edge: Edge, item: Item, source: VoltageSystem, wanted: str, feed: Feed | None
) -> None:
    place = item.system.span if item.system else None
    if feed is not None and feed.volts is not None and feed.volts.span is not None:
        place = feed.volts.span
    supply = resolver.items[edge.source]
    resolver.findings.append(
        Finding(
            rule="voltage-match",
            severity=Severity.ERROR,
            subject=item.tag,
            message=f"{item.tag} is {wanted}, and {edge.source} that feeds it is {source.literal}",
            span=place or item.tag_span,
            related=(Label(_system_place(supply), f"{edge.source} gives {source.literal}"),),
            help=f"write one of {', '.join(offered(source))}, or put a transformer between them",
            clause="110.4",
        )
    )


def _system_place(item: Item) -> Span:
    written = item.secondary or item.system
    return written.span if written is not None and written.span is not None else item.tag_span


def _two_sources_differ(
    resolver: _Resolver, edge: Edge, item: Item, first: VoltageSystem, second: VoltageSystem
) -> None:
    resolver.findings.append(
        Finding(
            rule="voltage-match",
            severity=Severity.ERROR,
            subject=item.tag,
            message=f"{item.tag} has a {first.literal} and a {second.literal} source",
            span=edge.feed.source_span if edge.feed else item.tag_span,
            label=f"{edge.source} gives {second.literal}",
            related=(Label(_system_place(resolver.items[edge.source]), f"{edge.source} is {second.literal}"),),
            help="both sources of one piece of gear need the same voltage system",
            clause="110.4",
        )
    )


def _check_tie(resolver: _Resolver, edge: Edge, tie: Tie) -> None:
    """Both ends of a tie are on one system."""
    first, second = resolver.found[edge.source][0], resolver.found[edge.target][0]
    if first is None or second is None or first.literal == second.literal:
        return
    resolver.findings.append(
        Finding(
            rule="voltage-match",
            severity=Severity.ERROR,
            subject=tie.tag,
            message=f"tie {tie.tag} joins {first.literal} ({edge.source}) and {second.literal} ({edge.target})",
            span=tie.span,
            help="a tie joins two buses of one voltage system",
            clause="110.4",
        )
    )
