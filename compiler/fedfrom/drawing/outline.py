"""What stands on the one-line: parts (sources, boards, loads …) and the runs of wire between them. No geometry.

A panelboard's ordinary branch circuits are left to its schedule. Everything keeps the order of the schedules, then of
the source text.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from fedfrom.drawing.lettering import capitals
from fedfrom.drawing.notable import is_drawn, motor_gear
from fedfrom.graph.network import Edge, Network
from fedfrom.model.items import FactTable, Status
from fedfrom.results.types import (
    CircuitResult,
    ConductorResult,
    DeviceResult,
    FeederResult,
    Results,
)


@dataclass(frozen=True, slots=True)
class Part:
    """A thing with a place on the drawing.

    `kind`: "source", "board" (a bus with what leaves it), "panel" (a box with text), "transformer", "transfer", "load",
    "spare", "space". `key` is the tag, or the circuit's key for the last three.
    `revised`: the mark of the revision that changed it last, "" for none.
    """

    key: str
    kind: str
    status: Status
    circuit: CircuitResult | None = None
    count: int = 1
    revised: str = ""


@dataclass(frozen=True, slots=True)
class Run:
    """A run of wire from a part to a part, with the device at its source end.

    `tag` goes into the hexagon; "" for bus connections inside one enclosure (`plain`), spares and spaces.
    `extras`: inline symbols under the device ("meter", "contactor", "overload", "drive" …) in order.
    `circuit` is the position in the source's schedule ("2,4,6", "7") or "". `note` stands under the device text.
    `drop_pct` is the voltage drop of the run alone, percent.
    """

    id: str
    source: str
    target: str
    verb: str = "fed from"
    point: str = "bus"
    tag: str = ""
    device: DeviceResult | None = None
    conductors: ConductorResult | None = None
    length_ft: float | None = None
    circuit: str = ""
    extras: tuple[str, ...] = ()
    status: Status = Status.NEW
    by: str = ""
    plain: bool = False
    note: str = ""
    drop_pct: float | None = None
    revised: str = ""


@dataclass(frozen=True, slots=True)
class Bond:
    """A tie between two boards: the tie's tag and the boards' tags in the order written."""

    tag: str
    ends: tuple[str, str]


@dataclass(frozen=True, slots=True)
class Outline:
    """All parts in order, the runs that leave and enter each, the ties."""

    parts: Mapping[str, Part]
    below: Mapping[str, tuple[Run, ...]]
    above: Mapping[str, tuple[Run, ...]]
    ties: tuple[Bond, ...] = ()
    runs: Mapping[str, Run] = field(default_factory=dict)


FIRST_VERBS = ("fed from", "normal from")
PANEL_CLASSES = frozenset({"panelboard", "load center"})


def outline(results: Results, network: Network) -> Outline:
    """Choose what is drawn."""
    parts: dict[str, Part] = {}
    below: dict[str, list[Run]] = {tag: [] for tag in network.nodes}
    for tag in network.nodes:
        below[tag] = _leaving(tag, results, network, parts)
    for tag, node in network.nodes.items():
        joined = len(network.incoming.get(tag, ())) > 1 or _is_tied(tag, network)
        kind = _kind(node.role, tag, below[tag], results, joined)
        parts[tag] = Part(tag, kind, _status(tag, results, node.item.status), revised=revision_of(node.item.facts))
    _inner_panels(parts, below, results)
    above: dict[str, list[Run]] = {key: [] for key in parts}
    for runs in below.values():
        for run in runs:
            above[run.target].append(run)
    ordered = {key: tuple(sorted(runs, key=lambda run: run.verb not in FIRST_VERBS)) for key, runs in above.items()}
    ties = tuple(
        Bond(e.id, (e.source, e.target)) for e in network.edges.values() if e.kind == "tie" and e.source != e.target
    )
    every = {run.id: run for runs in below.values() for run in runs}
    return Outline(parts, {key: tuple(runs) for key, runs in below.items()}, ordered, ties, every)


def revision_of(facts: FactTable) -> str:
    """The mark of the revision in which a thing was changed last, "" where the text names none."""
    fact = facts.first("revised")
    return capitals(str(fact.values.get("mark", ""))) if fact is not None else ""


def _is_tied(tag: str, network: Network) -> bool:
    return any(network.edges[edge].kind == "tie" for edge in _ids(tag, network))


def _status(tag: str, results: Results, fallback: Status) -> Status:
    for found in (results.gear, results.transformers, results.transfers, results.sources):
        if tag in found:
            status: Status = found[tag].status
            return status
    return fallback


def _kind(role: str, tag: str, leaving: list[Run], results: Results, joined: bool) -> str:
    if role in ("source", "transformer", "transfer"):
        return role
    gear = results.gear.get(tag)
    if leaving or joined or (gear is not None and gear.gear_class not in PANEL_CLASSES and gear.positions_total == 0):
        return "board"
    return "panel"


def _inner_panels(parts: dict[str, Part], below: dict[str, list[Run]], results: Results) -> None:
    """A transformer with branch circuits of its own (isolated power panel) gets a panel box under it."""
    for tag in [key for key, part in parts.items() if part.kind == "transformer"]:
        if results.circuits.get(tag) and tag in results.gear:
            inner = f"{tag}/panel"
            parts[inner] = Part(inner, "panel", parts[tag].status, revised=parts[tag].revised)
            below[tag].append(Run(f"{tag}/inside", tag, inner, plain=True, status=parts[tag].status))
            below[inner] = []


def _leaving(tag: str, results: Results, network: Network, parts: dict[str, Part]) -> list[Run]:
    """The runs that leave a node: rows of its schedule first, then feeders that no row names, in source order."""
    edges = {edge.id: edge for edge in _edges_out(tag, network)}
    runs: list[Run] = []
    gear = results.gear.get(tag)
    node = network.nodes[tag]
    reserves: dict[tuple[object, ...], int] = {}
    for row in results.circuits.get(tag, ()):
        if row.kind in ("feeder", "tap") and row.feeder_id in edges:
            runs.append(_feeder_run(edges.pop(row.feeder_id), tag, results, network, row))
        elif row.kind == "load" and is_drawn(row, gear):
            parts[row.key] = Part(row.key, "load", row.status, row)
            runs.append(_load_run(row, tag, motor_gear(gear), node.item.loads))
        elif row.kind in ("spare", "space") and gear is not None and gear.gear_class not in PANEL_CLASSES:
            _reserve(row, tag, parts, runs, reserves)
    runs += [_feeder_run(edge, tag, results, network, None) for edge in edges.values()]
    return _without_twin(runs, tag, results)


def _without_twin(runs: list[Run], tag: str, results: Results) -> list[Run]:
    """A generator's own main is the device at the source end of its only feeder: it is drawn once, at the generator."""
    source = results.sources.get(tag)
    if source is None or source.main is None or len(runs) != 1 or runs[0].device is None:
        return runs
    main, device = source.main, runs[0].device
    same = (main.kind, main.rating_a, main.frame_a) == (device.kind, device.rating_a, device.frame_a)
    return [replace(runs[0], device=None)] if same else runs


def _reserve(
    row: CircuitResult, tag: str, parts: dict[str, Part], runs: list[Run], seen: dict[tuple[object, ...], int]
) -> None:
    """Equal spares (or spaces) of one board are drawn once, with their number."""
    device = row.device
    likeness = (
        row.kind,
        row.poles,
        device and (device.kind, device.rating_a, device.frame_a, device.functions),
        row.status,
    )
    if likeness not in seen:
        seen[likeness] = len(runs)
        parts[row.key] = Part(row.key, row.kind, row.status, row)
        bought = row.device if row.kind == "spare" else None
        runs.append(Run(row.key, tag, row.key, device=bought, status=row.status, note=_reserve_note(row, 1)))
        return
    index = seen[likeness]
    first = parts[runs[index].target]
    parts[first.key] = replace(first, count=first.count + 1)
    runs[index] = replace(runs[index], note=_reserve_note(row, first.count + 1))


def _reserve_note(row: CircuitResult, count: int) -> str:
    """What stands at a spare device or an empty place."""
    what = "SPARE" if row.kind == "spare" else f"SPACE {row.poles}P"
    return what if count == 1 else f"{what}, {count} ALIKE"


def _edges_out(tag: str, network: Network) -> list[Edge]:
    """Edges drawn downward from a node. A source that `connects to` gear hangs below that gear."""
    found = []
    for edge in _touching(tag, network):
        if edge.kind == "tie" or edge.source == edge.target:
            continue
        host, guest = _host_and_guest(edge, network)
        if host == tag and guest in network.nodes:
            found.append(edge)
    return found


def _ids(tag: str, network: Network) -> tuple[str, ...]:
    return tuple(dict.fromkeys((*network.outgoing.get(tag, ()), *network.incoming.get(tag, ()))))


def _touching(tag: str, network: Network) -> list[Edge]:
    return [network.edges[edge_id] for edge_id in _ids(tag, network)]


def _host_and_guest(edge: Edge, network: Network) -> tuple[str, str]:
    """(upper end, lower end) of an edge on paper."""
    if edge.feed is not None and edge.feed.verb == "connects to":
        node = network.nodes.get(edge.source)
        if node is not None and edge.feed in node.item.feeds:
            return edge.target, edge.source
    return edge.source, edge.target


def _circuit_text(row: CircuitResult | None, feeder: FeederResult | None) -> str:
    positions = (row.positions if row else ()) or (feeder.positions if feeder else ())
    if positions:
        return ",".join(str(position) for position in positions)
    return str(row.order) if row is not None and row.order else ""


def _feeder_run(edge: Edge, tag: str, results: Results, network: Network, row: CircuitResult | None) -> Run:
    host, guest = _host_and_guest(edge, network)
    feeder = results.feeders.get(edge.id)
    feed = edge.feed
    status = feeder.status if feeder else (feed.status if feed else Status.NEW)
    if edge.kind == "inside":
        inner = _status(guest, results, status)
        device = feeder.device if feeder else None
        return Run(edge.id, host, guest, device=device, status=inner, circuit=_circuit_text(row, feeder), plain=True)
    verb = feeder.verb if feeder else (feed.verb if feed else "fed from")
    device = feeder.device if feeder else None
    if device is None and row is not None:
        device = row.device
    return Run(
        edge.id, host, guest, verb, (feeder.point if feeder else "") or (feed.point if feed else "bus"), edge.id,
        device, feeder.conductors if feeder else None, feeder.length_ft if feeder else None,
        _circuit_text(row, feeder), ("meter",) if feeder and feeder.meter and feeder.meter != "none" else (),
        status, feeder.by if feeder else "", drop_pct=feeder.drop_pct if feeder else None,
        revised=revision_of(feed.facts) if feed else "",
    )  # fmt: skip


def _load_run(row: CircuitResult, tag: str, in_motor_gear: bool, loads: tuple[object, ...]) -> Run:
    from fedfrom.drawing.notable import starting_means

    extras = starting_means(row, in_motor_gear, loads)
    return Run(
        row.key, tag, row.key, "fed from", "tap" if row.kind == "tap" else "bus", row.tag or row.key, row.device,
        row.conductors, row.length_ft, _circuit_text(row, None), extras, row.status, row.by, drop_pct=row.drop_pct,
    )  # fmt: skip
