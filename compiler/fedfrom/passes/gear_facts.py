"""The facts of a piece of gear that decide its class, gathered once, each with its place in the text."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.graph.walk import incoming_edges, outgoing_edges
from fedfrom.model.fact_reading import amount, words
from fedfrom.model.items import Device, Feed, Item, Origin
from fedfrom.passes.device_ahead import device_ahead
from fedfrom.passes.place import Place, needed_enclosure, place_of
from fedfrom.passes.work import Work
from fedfrom.quantity import Dimension, VoltageSystem
from fedfrom.results.types import DeviceResult
from fedfrom.source import Span

# Breakers of one small frame fit the same places whatever their trip; above it the frame is what takes the room.
SMALL_FRAME_A = 150.0  # common practice, no source


@dataclass(frozen=True, slots=True)
class Branch:
    """A branch device: `amperes` of the place it takes (frame or switch), `what` it serves."""

    amperes: float
    poles: int
    kind: str
    what: str
    electronic: bool
    drawout: bool
    span: Span | None


@dataclass(frozen=True, slots=True)
class GearFacts:
    """What the class decision looks at. A None is not known and then decides nothing."""

    tag: str
    kind: str
    system: VoltageSystem | None
    main_a: float | None
    main_what: str
    main_kind: str
    main_span: Span | None
    main_options: frozenset[str]
    main_functions: str
    branches: tuple[Branch, ...]
    poles: int
    incomplete: bool
    metering: str
    metering_span: Span | None
    mounting: str
    mounting_span: Span | None
    devices: str
    devices_span: Span | None
    access: str
    access_span: Span | None
    sections: int | None
    sections_span: Span | None
    through_bus_a: float | None
    through_bus_span: Span | None
    place: Place | None
    enclosure: str
    enclosure_span: Span | None
    fault_a: float | None
    fault_state: str
    several_sources: str
    several_span: Span | None
    service_disconnects: int
    tag_span: Span


def gather(work: Work, item: Item) -> GearFacts:
    """Gather the facts of a piece of gear after sizing and the fault study."""
    node = work.network.nodes[item.tag]
    main_a, main_what, main_span = _mains(work, item)
    main = work.mains.get(item.tag)
    written = item.main.device if item.main is not None else None
    branches = branch_devices(work, item)
    place = place_of(work.model, item)
    enclosure, enclosure_span = _enclosure(work, item, place)
    fault = work.worst_fault(item.tag)
    several, several_span = _several_sources(work, item)
    return GearFacts(
        tag=item.tag,
        kind=item.kind,
        system=node.system or node.line_system,
        main_a=main_a,
        main_what=main_what,
        main_kind=main.kind if main is not None else (written.kind if written is not None else ""),
        main_span=main_span,
        main_options=_options(written, main),
        main_functions=written.functions if written is not None else "",
        branches=branches,
        poles=sum(branch.poles for branch in branches),
        incomplete=_incomplete(work, item),
        metering=_word(item, "metering"),
        metering_span=_span(item, "metering"),
        mounting=_word(item, "mounting"),
        mounting_span=_span(item, "mounting"),
        devices=_word(item, "devices"),
        devices_span=_span(item, "devices"),
        access=_word(item, "access"),
        access_span=_span(item, "access"),
        sections=_count(item, "sections"),
        sections_span=_span(item, "sections"),
        through_bus_a=amount(item.facts.first("through bus"), Dimension.CURRENT),
        through_bus_span=_span(item, "through bus"),
        place=place,
        enclosure=enclosure,
        enclosure_span=enclosure_span,
        fault_a=fault.greatest_a if fault is not None else None,
        fault_state=fault.state if fault is not None else "",
        several_sources=several,
        several_span=several_span,
        service_disconnects=_service_disconnects(work, item, branches),
        tag_span=item.tag_span,
    )


def is_service(work: Work, tag: str) -> bool:
    """Whether gear is fed straight from a utility: then its main is a service disconnect."""
    nodes = work.network.nodes
    return any(
        nodes[edge.source].item.kind == "utility"
        for edge in incoming_edges(work.network, tag)
        if edge.source in nodes and edge.kind == "feed"
    )


def _service_disconnects(work: Work, item: Item, branches: tuple[Branch, ...]) -> int:
    """Service disconnects inside: the main, or without one every device on the bus (NEC 230.71)."""
    if not is_service(work, item.tag):
        return 0
    if item.tag in work.mains or item.main is None or not item.main.lugs:
        return 1
    return len(branches)


def _mains(work: Work, item: Item) -> tuple[float | None, str, Span | None]:
    """Ampere rating of the mains, in words where it is from, and the place in the text."""
    main = work.mains.get(item.tag)
    if main is not None:
        what = "as written" if main.origin is Origin.WRITTEN else "as chosen for the load"
        return main.rating_a, what, main.span or (item.main.span if item.main is not None else item.tag_span)
    written = item.main.device if item.main is not None else None
    if written is not None and written.rating_a is not None:
        return written.rating_a.value, "as written", written.span
    bus = item.facts.first("bus")
    bus_a = amount(bus, Dimension.CURRENT)
    if bus is not None and bus_a is not None:
        return bus_a, "by the bus as written", bus.span
    ahead = device_ahead(work, item.tag)
    if ahead is not None:
        return ahead.protects_a, "by the device ahead", ahead.span or item.tag_span
    load = work.node_load(item.tag)
    if load is not None and load.complete:
        return load.design_with_growth_a, "by the design current", item.tag_span
    return None, "", item.tag_span


def branch_devices(work: Work, item: Item) -> tuple[Branch, ...]:
    """Every device on the bus but the main: circuits, feeders, bought spares and places kept for a device."""
    found = [
        _branch(row.device, "a spare" if row.kind == "spare" else row.name or row.key, row.span)
        for row in work.circuits.get(item.tag, ())
        if row.device is not None and row.kind != "feeder"
    ]
    listed = {row.feeder_id for row in work.circuits.get(item.tag, ())}
    for edge in outgoing_edges(work.network, item.tag):
        feeder = work.feeders.get(edge.id)
        if feeder is not None and feeder.device is not None and feeder.point == "bus":
            found.append(_branch(feeder.device, f"feeder to {feeder.target}", _feed_span(edge.feed, feeder.device)))
        listed.discard(edge.id)
    has_rows = {row.kind for row in work.circuits.get(item.tag, ())}
    for reserve in item.reserves:
        # A space has no device in its row; a spare has one where the circuit pass made a row for it.
        if reserve.rating_a is not None and not (reserve.kind == "spare" and "spare" in has_rows):
            what = f"a {reserve.kind}"
            one = Branch(reserve.rating_a, reserve.poles, reserve.device_kind, what, False, False, reserve.span)
            found.extend([one] * reserve.count)
    return tuple(found)


def _branch(device: DeviceResult, what: str, span: Span | None) -> Branch:
    size = device.rating_a
    if device.fuse_a is None and device.frame_a is not None and device.frame_a > SMALL_FRAME_A:
        size = device.frame_a
    electronic = bool(device.functions) or "electronic" in device.options
    return Branch(size, device.poles, device.kind, what, electronic, "drawout" in device.options, device.span or span)


def _feed_span(feed: Feed | None, device: DeviceResult) -> Span | None:
    return device.span or (feed.span if feed is not None else None)


def _incomplete(work: Work, item: Item) -> bool:
    rows = work.circuits.get(item.tag, ())
    return any(row.kind in ("load", "feeder") and row.device is None and row.load_a is None for row in rows)


def _options(written: Device | None, main: DeviceResult | None) -> frozenset[str]:
    options = set(written.options) if written is not None else set()
    if main is not None:
        options.update(main.options)
    return frozenset(options)


def _enclosure(work: Work, item: Item, place: Place | None) -> tuple[str, Span | None]:
    """The enclosure type that is written, else that the place needs; "" where neither is known."""
    written = item.facts.first("enclosure")
    if written is not None:
        return enclosure_type(item), written.span
    if place is None:
        return "", None
    chosen = needed_enclosure(work.edition, place)
    return (chosen.type if chosen is not None else ""), place.span


def enclosure_type(item: Item) -> str:
    """The enclosure type written on an item ("3R"), "" without one."""
    fact = item.facts.first("enclosure")
    if fact is None:
        return ""
    value = fact.values.get("type")
    return str(value) if value is not None else (words(fact)[-1].removeprefix("Type ") if words(fact) else "")


def _several_sources(work: Work, item: Item) -> tuple[str, Span | None]:
    for tie in work.model.ties:
        if item.tag in tie.ends and tie.length_ft is None:
            return f"the tie {tie.tag}", tie.span
    if item.paralleling:
        fact = item.facts.first("paralleling")
        return "paralleling", fact.span if fact is not None else item.tag_span
    return "", None


def _word(item: Item, name: str) -> str:
    return " ".join(words(item.facts.first(name)))


def _span(item: Item, name: str) -> Span | None:
    fact = item.facts.first(name)
    return fact.span if fact is not None else None


def _count(item: Item, name: str) -> int | None:
    fact = item.facts.first(name)
    if fact is None:
        return None
    for value in fact.values.values():
        if isinstance(value, int):
            return value
        number = getattr(value, "value", None)
        if number is not None:
            return int(number)
    return None
