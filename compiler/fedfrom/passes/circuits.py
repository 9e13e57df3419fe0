"""Pass: the rows of every schedule, with numbered positions on panels and phases for balance.

Load lines take their positions in the order of the text, feeders from the bottom of the panel upwards, spares and
spaces what is left from the top: so a load added after the others moves none of them. Devices and conductors come
later.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from fedfrom.findings import Finding
from fedfrom.formulas.load_phases import NOTHING, PhaseLoad, add, by_phase, evenly, place_on
from fedfrom.graph.network import Edge, Node
from fedfrom.graph.walk import bottom_up, incoming_edges, is_first_choice, outgoing_edges
from fedfrom.model.fact_reading import words
from fedfrom.passes.circuit_boards import place_in_order, place_in_positions
from fedfrom.passes.circuit_requests import Placed, Request, feeder_requests, load_requests, reserve_requests
from fedfrom.passes.circuit_rows import circuit_row
from fedfrom.passes.connected import DWELLING_GROUP, ConnectedLoad
from fedfrom.passes.load_lines import LineLoad, line_loads
from fedfrom.passes.phase_mapping import letters_of, seen_from_source
from fedfrom.passes.work import Pass, Work
from fedfrom.results.types import CircuitResult

NUMBERED_KINDS = frozenset({"panelboard", "load center", "isolated power panel"})


@dataclass
class _Progress:
    """What is known so far: rows and loads by gear, phases of feeds, and every node's load as its own phases see it."""

    rows: dict[str, tuple[CircuitResult, ...]] = field(default_factory=dict)
    connected: dict[str, tuple[ConnectedLoad, ...]] = field(default_factory=dict)
    edge_phases: dict[str, str] = field(default_factory=dict)
    at_node: dict[str, PhaseLoad] = field(default_factory=dict)
    known: dict[str, bool] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)


def run(work: Work) -> Work:
    """Fills `circuits`, `connected` and `edge_phases`; findings on positions that do not fit."""
    progress = _Progress()
    for tag in bottom_up(work.network):
        _place_node(work, work.network.nodes[tag], progress)
    order = [tag for tag in work.network.nodes if tag in progress.rows]
    return replace(
        work,
        circuits={tag: progress.rows[tag] for tag in order},
        connected={tag: progress.connected[tag] for tag in work.network.nodes if progress.connected.get(tag)},
        edge_phases={edge: progress.edge_phases[edge] for edge in work.network.edges if edge in progress.edge_phases},
        findings=(*work.findings, *progress.findings),
    )


def _place_node(work: Work, node: Node, progress: _Progress) -> None:
    lines = line_loads(node, work.edition)
    requests = [*load_requests(node, lines, work.edition), *feeder_requests(work.network, node)]
    if _has_schedule(node, requests):
        requests.extend(reserve_requests(node))
        placed = _place(work, node, requests, progress)
        progress.rows[node.tag] = tuple(
            circuit_row(work, node, entry, _row_load(work, node, entry, progress)) for entry in placed
        )
    else:
        placed = place_in_order(node, requests, _place_beside(work, node))
    for entry in placed:
        if entry.request.edge is not None:
            progress.edge_phases[entry.request.edge.id] = entry.phases
    high_leg = node.system is not None and node.system.kind == "high-leg delta"
    progress.connected[node.tag] = _connected(lines, placed, "AC" if high_leg else letters_of(node.system))
    _sum_up(work, node, progress)


def _has_schedule(node: Node, requests: list[Request]) -> bool:
    """Gear with a bus has a schedule; sources, transfer switches and plain transformers have none."""
    if node.role == "bus":
        return True
    return node.item.kind in ("isolated power panel", "pdu") and bool(requests)


def _place(work: Work, node: Node, requests: list[Request], progress: _Progress) -> list[Placed]:
    if not is_numbered(node, requests):
        return place_in_order(node, requests, _place_beside(work, node))
    carried = {id(request): _vector_hint(work, request, progress) for request in requests}
    placed, findings = place_in_positions(work, node, requests, carried, _place_beside(work, node))
    progress.findings.extend(findings)
    return placed


def _place_beside(work: Work, node: Node) -> int:
    """The number of a node among all that its source feeds, from 0, in source order."""
    for edge in incoming_edges(work.network, node.tag):
        if is_first_choice(edge):
            beside = [other.target for other in outgoing_edges(work.network, edge.source) if is_first_choice(other)]
            return beside.index(node.tag)
    return 0


def is_numbered(node: Node, requests: list[Request]) -> bool:
    """Whether circuits have numbered positions.

    Panels have, unless they say `numbering consecutive`; gear whose class is left open has when it holds any 1- or
    2-pole circuit or a position is written; line-ups, motor control and meter centers go by order.
    """
    if node.item.kind in NUMBERED_KINDS:
        return "consecutive" not in words(node.item.facts.first("numbering"))
    if node.item.kind not in ("gear", "pdu"):
        return False
    return any(request.positions or (request.poles < 3 and request.kind == "load") for request in requests)


def _vector_hint(work: Work, request: Request, progress: _Progress) -> float:
    """VA of a request, for balance."""
    if request.edge is not None:
        return sum(by_phase(progress.at_node.get(request.edge.target, NOTHING)))
    return sum((line.load.va or 0.0) * request.share for line in request.lines)


def _row_load(work: Work, node: Node, entry: Placed, progress: _Progress) -> PhaseLoad | None:
    """VA by conductor of a row, in the phases of its gear; None where not known."""
    request = entry.request
    if request.edge is not None:
        return _feeder_load(work, request.edge, entry.phases, progress)
    if not request.lines:
        return NOTHING
    if any(line.load.va is None for line in request.lines):
        return None
    return add(_line_on(line, request, entry.phases) for line in request.lines)


def _line_on(line: LineLoad, request: Request, phases: str) -> PhaseLoad:
    to_neutral = line.connection.to_neutral
    where = phases
    if not request.multiwire and len(phases) > line.connection.poles:
        where = phases[: line.connection.poles]
    va = (line.load.va or 0.0) * request.share * (0.5 if line.load.cord else 1.0)
    return place_on(where or "A", va, to_neutral or len(where) == 1)


def _feeder_load(work: Work, edge: Edge, phases: str, progress: _Progress) -> PhaseLoad | None:
    target = work.network.nodes[edge.target]
    if edge.feed is not None and edge.feed.verb == "connects to":
        return NOTHING
    if not progress.known.get(edge.target, True):
        return None
    return seen_from_source(progress.at_node.get(edge.target, NOTHING), target, phases)


def _connected(lines: tuple[LineLoad, ...], placed: list[Placed], letters: str) -> tuple[ConnectedLoad, ...]:
    """The loads with the phases of all their circuits; a load with two cords stands at half on each.

    `letters`: the phases that line-to-neutral loads may take here.
    """
    on: dict[str, list[PhaseLoad]] = {}
    for entry in placed:
        for line in entry.request.lines:
            if line.load.va is not None:
                on.setdefault(line.load.key, []).append(_line_on(line, entry.request, entry.phases))
    return tuple(_on_phases(line.load, add(on.get(line.load.key, [])), letters) for line in lines)


def _on_phases(load: ConnectedLoad, on_phases: PhaseLoad, letters: str) -> ConnectedLoad:
    """General loads of a dwelling unit count evenly, as the code's examples take them, all others as placed."""
    is_general = load.kind in DWELLING_GROUP and load.to_neutral
    return replace(load, on_phases=on_phases, even_on=evenly(on_phases, letters) if is_general else on_phases)


def _sum_up(work: Work, node: Node, progress: _Progress) -> None:
    """The connected load of a node in its own phases, and whether all of it is known."""
    own = [load for load in progress.connected[node.tag] if not load.status.is_gone]
    parts = [load.on_phases for load in own]
    known = all(load.va is not None for load in own)
    for edge in outgoing_edges(work.network, node.tag):
        target = work.network.nodes[edge.target]
        if not is_first_choice(edge) or edge.target not in progress.at_node or target.item.status.is_gone:
            continue
        phases = progress.edge_phases.get(edge.id, "")
        parts.append(seen_from_source(progress.at_node[edge.target], target, phases))
        known = known and progress.known[edge.target]
    progress.at_node[node.tag] = add(parts)
    progress.known[node.tag] = known


PASS = Pass("circuits", needs=frozenset(), gives=frozenset({"circuits", "connected", "edge_phases"}), run=run)
