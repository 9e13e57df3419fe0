"""What a piece of gear has to find a place for: its load lines as circuits, the feeders that leave it, its reserves."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from fedfrom.formulas.load_units import circuits_needed, outlets_on_circuit
from fedfrom.graph.network import Edge, Network, Node
from fedfrom.graph.voltages import Connection
from fedfrom.graph.walk import SUPPLY_VERBS, outgoing_edges
from fedfrom.model.build_loads import DIVIDED_KINDS
from fedfrom.model.items import Load, Reserve, Status
from fedfrom.passes.connected import DWELLING_LIGHTING
from fedfrom.passes.load_kinds import circuit_choice
from fedfrom.passes.load_lines import LineLoad
from fedfrom.quantity import VoltageSystem
from fedfrom.source import Span
from fedfrom.tables import Edition

# Feeds that leave the gear without a device on its bus.
DEVICELESS_POINTS = frozenset({"ahead of main", "feed-through lugs", "sub-feed lugs", "tap", "opposite end"})

_DIVIDED = DIVIDED_KINDS | {DWELLING_LIGHTING}


@dataclass(frozen=True, slots=True)
class Request:
    """One row to place. `lines` the loads on it and `share` of each; `positions` pinned, else ().

    `kind` as in `CircuitResult`. `number` of `of` circuits that one load line takes. `edge` for feeders, `reserve` for
    spares and spaces. `multiwire`: to neutral on every pole. `target_phases` those that the fed panel states.
    """

    kind: str
    poles: int
    positions: tuple[int, ...]
    span: Span | None
    status: Status
    name: str = ""
    tag: str = ""
    lines: tuple[LineLoad, ...] = ()
    share: float = 1.0
    number: int = 1
    of: int = 1
    outlets: float | None = None
    multiwire: bool = False
    line: Load | None = None
    connection: Connection | None = None
    edge: Edge | None = None
    reserve: Reserve | None = None
    positions_span: Span | None = None
    target_phases: str = ""


@dataclass(frozen=True, slots=True)
class Placed:
    """A request with its place: positions (none on gear that goes by order), order from 1, phases of its poles."""

    request: Request
    positions: tuple[int, ...]
    order: int
    phases: str
    notes: tuple[str, ...] = ()


def load_requests(node: Node, lines: tuple[LineLoad, ...], edition: Edition) -> Iterator[Request]:
    """The circuits of the load lines, in the order of the text."""
    groups: dict[int, list[LineLoad]] = {}
    for line in lines:
        groups.setdefault(id(line.line) if line.line is not None else id(line), []).append(line)
    for group in groups.values():
        yield from _circuits(node, tuple(group), edition)


def _circuits(node: Node, group: tuple[LineLoad, ...], edition: Edition) -> Iterator[Request]:
    first = group[0]
    line = first.line
    if line is None:
        yield from _implied(first, edition)
        return
    poles = _poles(node, group)
    base = Request(
        kind="load",
        poles=poles,
        positions=line.positions,
        span=line.span,
        status=group[0].load.status,
        name=line.name or first.load.name,
        tag=line.tag,
        lines=group,
        multiwire=line.multiwire,
        line=line,
        connection=first.connection,
        positions_span=line.positions_span,
    )
    if line.count > 1:
        yield from _times(base, line.count)
        return
    if line.parts or (line.positions and not _has_many(base)):
        yield from _divided(base, 1, first)
        return
    circuits = len(line.positions) or _general_circuits(base, first, edition)
    yield from _divided(base, circuits, first)


def _has_many(base: Request) -> bool:
    """Whether the positions of a general load are those of several circuits: more of them than its one pole."""
    is_general = base.line is not None and base.line.kind in DIVIDED_KINDS and not base.multiwire
    return is_general and base.poles == 1 and len(base.positions) > 1


def _poles(node: Node, group: tuple[LineLoad, ...]) -> int:
    """Poles of a circuit: its connection's; of a multiwire circuit its positions', else one for each phase."""
    line = group[0].line
    assert line is not None
    if line.multiwire:
        phases = node.system.phases if node.system else 0
        return len(line.positions) or (3 if phases == 3 else 2)
    if line.parts:
        return max(len(line.positions), *(part.connection.poles for part in group))
    return group[0].connection.poles


def _times(base: Request, count: int) -> Iterator[Request]:
    """`x N`: N circuits; positions written are shared out in order where their number fits."""
    pinned = base.positions
    fits = len(pinned) == base.poles * count
    for number in range(1, count + 1):
        own = pinned[(number - 1) * base.poles : number * base.poles] if fits else (pinned if number == 1 else ())
        yield replace(base, positions=own, share=1.0 / count, number=number, of=count)


def _general_circuits(base: Request, first: LineLoad, edition: Edition) -> int:
    """How many circuits a general lighting or receptacle load is divided over (210.11(A) and (B)).

    Device rating: as written, else 20 A (common practice). Continuous load fills 80 % of it, unless the unit load
    already contains the 125 %. Outlets go whole: 10 on 15 A, 13 on 20 A at 120 V.
    """
    assert base.line is not None
    if first.load.kind not in _DIVIDED or first.amount.va is None:
        return 1
    if base.multiwire or first.connection.phases == 3:
        return 1
    device = base.line.device
    rating = device.rating_a.value if device and device.rating_a else circuit_choice(edition, "general_circuit")
    volts = first.connection.volts
    if base.line.amount.form == "outlets" and first.load.kind == "receptacles":
        each = outlets_on_circuit(rating, volts)
        return circuits_needed(base.line.amount.quantity or 0.0, each) if each else 1
    share = circuit_choice(edition, "continuous_share") / 100
    reduced = first.circuit_continuous and not first.amount.included_125
    return circuits_needed(first.amount.va, rating * volts * (share if reduced else 1.0))


def _divided(base: Request, circuits: int, first: LineLoad) -> Iterator[Request]:
    """A general load over its circuits: outlets in whole numbers, the first circuits taking the odd ones."""
    line = base.line
    outlets = line.amount.quantity if line is not None and line.amount.form == "outlets" else None
    for number in range(1, circuits + 1):
        each = base if circuits == 1 else replace(base, positions=base.positions[number - 1 : number])
        if outlets is None:
            yield replace(each, share=1.0 / circuits, number=number, of=circuits)
            continue
        own = outlets // circuits + (1 if number <= outlets % circuits else 0)
        yield replace(each, share=own / outlets if outlets else 1.0, number=number, of=circuits, outlets=own)


def _implied(line: LineLoad, edition: Edition) -> Iterator[Request]:
    """The circuits that a dwelling line implies: 15 A for general lighting (common practice), 20 A for the others."""
    count = line.load.count
    if line.load.kind == DWELLING_LIGHTING:
        rating = circuit_choice(edition, "dwelling_lighting_circuit")
        count = circuits_needed(line.load.va or 0.0, rating * line.connection.volts)
    for number in range(1, count + 1):
        yield Request(
            kind="load",
            poles=line.connection.poles,
            positions=(),
            span=line.load.span,
            status=line.load.status,
            name=line.load.name,
            lines=(line,),
            share=1.0 / count,
            number=number,
            of=count,
            connection=line.connection,
        )


def feeder_requests(network: Network, node: Node) -> Iterator[Request]:
    """The feeders that leave the gear, in source order; those without a device on its bus are of kind "tap"."""
    for edge in outgoing_edges(network, node.tag):
        feed = edge.feed
        if feed is None or feed.verb not in SUPPLY_VERBS | {"connects to"}:
            continue
        target = network.nodes[edge.target]
        arriving = target.line_system or node.system
        deviceless = feed.point in DEVICELESS_POINTS and feed.verb != "connects to"
        yield Request(
            kind="tap" if deviceless else "feeder",
            poles=len(feed.positions) or feeder_poles(arriving, node.system),
            positions=feed.positions,
            span=feed.span,
            status=feed.status if feed.status is not Status.NEW else target.item.status,
            name=target.item.title or edge.target,
            tag=edge.target,
            edge=edge,
            positions_span=feed.positions_span,
            target_phases=_phases_wanted(node, target, arriving),
        )


def _phases_wanted(node: Node, target: Node, arriving: VoltageSystem | None) -> str:
    """The phases that a fed panel must have: those it states; on a high-leg delta the two beside the neutral."""
    stated = "".join(letter for letter in target.item.phases.upper() if letter in "ABC")
    if stated or node.system is None or node.system.kind != "high-leg delta" or arriving is None:
        return stated
    return "AC" if arriving.kind == "single-phase" else ""


def feeder_poles(arriving: VoltageSystem | None, at_source: VoltageSystem | None) -> int:
    """Poles of the device of a feeder: its ungrounded conductors."""
    system = arriving or at_source
    if system is None or system.phases == 3:
        return 3
    if system.kind == "two-wire":
        return 1 if system.line_to_neutral_v else 2
    return 2


def reserve_requests(node: Node) -> Iterator[Request]:
    """Spares and spaces, one row a device or pole."""
    for reserve in node.item.reserves:
        pinned = reserve.positions
        fits = len(pinned) == reserve.poles * reserve.count
        for number in range(reserve.count):
            own = pinned[number * reserve.poles : (number + 1) * reserve.poles] if fits else ()
            yield Request(
                kind=reserve.kind,
                poles=reserve.poles,
                positions=own or (pinned if number == 0 else ()),
                span=reserve.span,
                status=reserve.status,
                name=reserve.kind.upper(),
                number=number + 1,
                of=reserve.count,
                reserve=reserve,
                positions_span=reserve.span,
            )
