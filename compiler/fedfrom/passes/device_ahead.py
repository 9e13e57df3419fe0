"""The overcurrent device that protects a bus from above, through transfer switches and feeds without a device."""

from __future__ import annotations

from fedfrom.graph.network import Edge
from fedfrom.graph.walk import incoming_edges
from fedfrom.passes.work import Work
from fedfrom.results.types import DeviceResult


def device_ahead(work: Work, tag: str, seen: frozenset[str] = frozenset()) -> DeviceResult | None:
    """The device ahead of a bus, its own main not counted; the largest of several supplies; None where there is none.

    A feed without a device (tap, lugs, the outgoing side of a transfer switch) is protected by the main of its source,
    or by what stands ahead of that. None behind a transformer or a service without a device.
    """
    if tag in seen:
        return None
    supplies = [edge for edge in incoming_edges(work.network, tag) if _carries(edge)]
    found = [_through(work, edge, seen | {tag}) for edge in supplies]
    known = [device for device in found if device is not None]
    return max(known, key=lambda device: device.protects_a, default=None)


def _carries(edge: Edge) -> bool:
    return edge.kind != "tie" and not (edge.feed is not None and edge.feed.verb == "connects to")


def _through(work: Work, edge: Edge, seen: frozenset[str]) -> DeviceResult | None:
    feeder = work.feeders.get(edge.id)
    if feeder is not None and feeder.device is not None:
        return feeder.device if feeder.device.kind != "switch" else None
    node = work.network.nodes.get(edge.source)
    on_the_bus = edge.feed is not None and edge.feed.point == "bus"
    if on_the_bus and node is not None and node.role == "bus":
        return None  # it has a device that is not known yet
    ahead_of_main = edge.feed is not None and edge.feed.point == "ahead of main"
    main = work.mains.get(edge.source)
    if main is not None and not ahead_of_main and main.kind != "switch":
        return main
    if node is None or node.role in ("transformer", "source"):
        return None
    return device_ahead(work, edge.source, seen)
