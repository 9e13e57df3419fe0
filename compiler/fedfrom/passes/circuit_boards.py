"""Finds the place of every row on one piece of gear: in numbered positions, or by order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from fedfrom.findings import Finding, Label, Severity
from fedfrom.graph.network import Node
from fedfrom.model.fact_reading import amount as fact_amount
from fedfrom.model.items import Status
from fedfrom.passes.circuit_placement import LARGEST_INTERIOR, Panel, is_one_side, smallest_size
from fedfrom.passes.circuit_requests import Placed, Request
from fedfrom.passes.load_growth import growth_poles_pct
from fedfrom.passes.phase_mapping import letters_of
from fedfrom.passes.work import Work
from fedfrom.quantity import Dimension, Quantity
from fedfrom.tables import Edition

Places = dict[int, tuple[int, ...]]  # index of the request -> positions


# --- by order ------------------------------------------------------------------------------------------------------


def place_in_order(node: Node, requests: Sequence[Request], first_turn: int = 0) -> list[Placed]:
    """Rows in the order of the text; 1- and 2-pole rows go round the phases. Written positions are kept as numbers.

    `first_turn`: where the round starts, so that gear beside gear does not begin with the same phase everywhere.
    """
    letters = letters_of(node.system)
    turns = {1: first_turn, 2: first_turn}
    high_leg = node.system is not None and node.system.kind == "high-leg delta"
    singles = "AC" if high_leg else letters
    pairs = ("AB", "BC", "CA") if letters == "ABC" else (letters,)
    placed = []
    for order, request in enumerate(requests, 1):
        phases = _pinned_phases(node, request, letters)
        if not phases and request.poles >= len(letters):
            phases = letters
        elif not phases:
            choices: Sequence[str] = singles if request.poles == 1 else pairs
            phases = choices[turns[request.poles] % len(choices)]
            turns[request.poles] += 1
        placed.append(Placed(request, request.positions, order, phases))
    return placed


def _pinned_phases(node: Node, request: Request, letters: str) -> str:
    """Phases that the fed panel states with `phases A B`."""
    stated = request.target_phases
    return stated if stated and len(stated) == request.poles and set(stated) <= set(letters) else ""


# --- numbered positions --------------------------------------------------------------------------------------------


def place_in_positions(
    work: Work, node: Node, requests: Sequence[Request], carried: dict[int, float], beside: int = 0
) -> tuple[list[Placed], list[Finding]]:
    """Rows with positions, sorted by them, unused positions as spaces; findings on positions that do not work.

    `carried`: VA by `id` of the request. `beside`: the number of the panel among all that its source feeds.
    """
    panel = _panel(work, node, beside)
    limit = written_positions(node)
    findings: list[Finding] = []
    places: Places = {}
    notes: dict[int, tuple[str, ...]] = {}
    _pin(node, panel, requests, places, carried, limit, findings)
    for index, request in enumerate(requests):
        if request.kind == "load" and index not in places and request.status is not Status.DEMOLISH:
            _open(panel, index, request, places, carried, limit)
    _demolished(panel, requests, places, notes)
    size = _size(work, node, panel, requests, places, limit)
    for index, request in enumerate(requests):
        if request.kind == "feeder" and index not in places:
            positions = panel.from_below(request.poles, size, request.target_phases)
            _take(panel, index, request, positions, places, carried)
    for index, request in enumerate(requests):
        if request.kind in ("spare", "space") and index not in places:
            _take(panel, index, request, _reserve_place(panel, request.poles, size), places, carried)
    findings.extend(_left_over(node, requests, places, size, limit))
    if not limit and size > LARGEST_INTERIOR and _sections(node) < 2:
        findings.append(_too_many_positions(node, size))
    return _rows(node, panel, requests, places, notes, size), findings


def _panel(work: Work, node: Node, beside: int) -> Panel:
    """An empty panel. Of single-phase panels side by side every second one begins with line B, so that equal dwelling
    units do not put the same appliance on the same line of their service; three-phase sources rotate their panels."""
    system = node.system
    panel = Panel(letters_of(system), standard_positions(work.edition))
    if system is not None and system.kind == "high-leg delta":
        panel.no_neutral = "B"
    if system is not None and system.kind == "single-phase" and beside % 2:
        panel.va["A"] = 1.0
    return panel


def standard_positions(edition: Edition) -> tuple[int, ...]:
    """Numbers of positions that panels are bought with (common practice)."""
    return tuple(int(row["positions"]) for row in edition.rows("gear_positions"))


def written_positions(node: Node) -> int:
    """The number of positions written on the gear, or 0."""
    fact = node.item.facts.first("positions")
    if fact is None:
        return 0
    for value in fact.values.values():
        if isinstance(value, Quantity):
            return int(value.value)
        if isinstance(value, int):
            return value
    return 0


def _sections(node: Node) -> int:
    number = fact_amount(node.item.facts.first("sections"), Dimension.NUMBER)
    return int(number) if number else 1


def _pin(
    node: Node,
    panel: Panel,
    requests: Sequence[Request],
    places: Places,
    carried: dict[int, float],
    limit: int,
    findings: list[Finding],
) -> None:
    """Written positions first: what stands, stands before anything is placed around it."""
    holder: dict[int, int] = {}
    for index, request in enumerate(requests):
        if not request.positions or request.status is Status.DEMOLISH or request.kind == "tap":
            continue
        problem = _shape_problem(node, request, limit)
        if problem:
            findings.append(_conflict(node, request, problem))
        clash = [position for position in request.positions if position in holder]
        if clash:
            findings.append(_double(node, request, clash, requests[holder[clash[0]]]))
            places[index] = ()
            continue
        for position in request.positions:
            holder[position] = index
        _take(panel, index, request, request.positions, places, carried)


def _shape_problem(node: Node, request: Request, limit: int) -> str:
    numbers = ",".join(str(position) for position in request.positions)
    if limit and max(request.positions) > limit:
        return f"position {max(request.positions)} is past the {limit} positions of {node.tag}"
    if min(request.positions) < 1:
        return f"position {min(request.positions)} does not exist"
    if len(request.positions) != request.poles and request.kind != "load":
        needs = f"{request.poles} position{'s' if request.poles > 1 else ''}"
        return f"{numbers} has {len(request.positions)} for a circuit that takes {needs}"
    if not is_one_side(request.positions):
        return f"{numbers} are not neighbours on one side"
    return ""


def _open(panel: Panel, index: int, request: Request, places: Places, carried: dict[int, float], limit: int) -> None:
    to_neutral = request.multiwire or any(line.connection.to_neutral for line in request.lines)
    positions = panel.open_positions(request.poles, to_neutral, limit)
    _take(panel, index, request, positions, places, carried)


def _take(
    panel: Panel, index: int, request: Request, positions: tuple[int, ...], places: Places, carried: dict[int, float]
) -> None:
    places[index] = positions
    if not positions:
        return
    counted = carried.get(id(request), 0.0) if request.status is not Status.FUTURE else 0.0
    letters = panel.phases(positions)
    panel.take(positions, index, {letter: counted * letters.count(letter) / len(letters) for letter in letters})


def _demolished(panel: Panel, requests: Sequence[Request], places: Places, notes: dict[int, tuple[str, ...]]) -> None:
    """A demolished circuit keeps its row unless its position is used again; then the new row says what it replaces."""
    for index, request in enumerate(requests):
        if request.status is not Status.DEMOLISH or index in places:
            continue
        if request.positions and panel.is_free(request.positions):
            panel.take(request.positions, index, {})
            places[index] = request.positions
            continue
        for position in request.positions:
            taker = panel.taken.get(position)
            if taker is not None:
                text = f"replaces {request.name or request.tag}, removed"
                notes[taker] = tuple(dict.fromkeys((*notes.get(taker, ()), text)))


def _size(work: Work, node: Node, panel: Panel, requests: Sequence[Request], places: Places, limit: int) -> int:
    """The number of positions: written, or the smallest standard that holds all rows and the growth asked for."""
    if limit:
        return limit
    still = [request for index, request in enumerate(requests) if index not in places and request.kind != "tap"]
    still = [request for request in still if request.status is not Status.DEMOLISH]
    in_place = sum(
        len(places[index]) for index, request in enumerate(requests) if index in places and _is_reserve(request)
    )
    used = panel.poles_placed - in_place + sum(request.poles for request in still if request.kind == "feeder")
    growth = growth_poles_pct(work, node) / 100
    reserves = in_place + sum(request.poles for request in still if _is_reserve(request))
    needed = max(used + reserves, -(-int(used * (1 + growth) * 1000) // 1000), max(panel.taken, default=0))
    sizes = panel.sizes
    size = smallest_size(int(needed), sizes)
    while not _holds(panel, still, size):
        size = smallest_size(size + 1, sizes)
    return size


def _is_reserve(request: Request) -> bool:
    return request.kind in ("spare", "space")


def _holds(panel: Panel, still: Sequence[Request], size: int) -> bool:
    """Whether feeders from below and reserves from above find places in a panel of this size."""
    trial = replace(panel, taken=dict(panel.taken), va=dict(panel.va))
    for request in [entry for entry in still if entry.kind == "feeder"]:
        positions = trial.from_below(request.poles, size, request.target_phases)
        if not positions:
            return False
        trial.take(positions, 0, {})
    for request in [entry for entry in still if entry.kind in ("spare", "space")]:
        positions = _reserve_place(trial, request.poles, size)
        if not positions:
            return False
        trial.take(positions, 0, {})
    return True


def _reserve_place(panel: Panel, poles: int, size: int) -> tuple[int, ...]:
    for start in range(1, size + 1):
        positions = tuple(range(start, start + 2 * poles, 2))
        if positions[-1] <= size and panel.is_free(positions):
            return positions
    return ()


def _rows(
    node: Node,
    panel: Panel,
    requests: Sequence[Request],
    places: Places,
    notes: dict[int, tuple[str, ...]],
    size: int,
) -> list[Placed]:
    found = [(places.get(index, ()), index, request) for index, request in enumerate(requests)]
    kept = [
        entry for entry in found if entry[0] or entry[2].status is not Status.DEMOLISH
    ]  # a demolished circuit whose place is used again is a note on the new row
    rows = [(positions, request, notes.get(index, ())) for positions, index, request in kept]
    rows.extend((positions, request, ()) for positions, request in _unused(node, panel, size))
    rows.sort(key=lambda row: (not row[0], row[0][:1]))
    return [
        Placed(request, positions, order, _phases(node, panel, positions, request), extra)
        for order, (positions, request, extra) in enumerate(rows, 1)
    ]


def _phases(node: Node, panel: Panel, positions: tuple[int, ...], request: Request) -> str:
    if positions:
        return panel.phases(positions)
    return panel.letters if request.poles >= len(panel.letters) else panel.letters[: request.poles]


def _unused(node: Node, panel: Panel, size: int) -> Iterator[tuple[tuple[int, ...], Request]]:
    """Every position that is left is a space of its own."""
    for position in range(1, size + 1):
        if position not in panel.taken:
            request = Request("space", 1, (), None, _unused_status(node), name="SPACE")
            yield (position,), request


def _unused_status(node: Node) -> Status:
    return Status.EXISTING if node.item.status is Status.EXISTING else Status.NEW


# --- findings ------------------------------------------------------------------------------------------------------


def _conflict(node: Node, request: Request, problem: str) -> Finding:
    return Finding(
        rule="position-conflict",
        severity=Severity.ERROR,
        subject=f"{node.tag}.{request.positions[0]}",
        message=f"{problem[0].upper()}{problem[1:]}",
        span=request.positions_span or request.span,
        help="positions of one device stand on one side and count in twos, as 1,3,5 or 2,4",
        clause="common practice, no source",
    )


def _double(node: Node, request: Request, clash: list[int], other: Request) -> Finding:
    name = other.name or other.tag or other.kind
    labels = (Label(other.positions_span or other.span, f"{name} stands here"),) if other.span else ()
    return Finding(
        rule="position-conflict",
        severity=Severity.ERROR,
        subject=f"{node.tag}.{clash[0]}",
        message=f"position {clash[0]} of {node.tag} is taken twice",
        span=request.positions_span or request.span,
        related=labels,
        help="give one of them another position, or leave it out and it is placed",
        clause="common practice, no source",
    )


def _left_over(node: Node, requests: Sequence[Request], places: Places, size: int, limit: int) -> Iterator[Finding]:
    """Rows that found no place in the number of positions that is written."""
    for index, request in enumerate(requests):
        if request.kind == "tap" or request.status is Status.DEMOLISH or places.get(index) or request.positions:
            continue
        what = request.name or request.tag or request.kind
        yield Finding(
            rule="position-conflict",
            severity=Severity.ERROR,
            subject=f"{node.tag} {what}",
            message=f"{what} finds no place among the {limit or size} positions of {node.tag}",
            span=request.span,
            help=f"give {node.tag} more positions, or move circuits to another panel",
            clause="common practice, no source",
        )


def _too_many_positions(node: Node, size: int) -> Finding:
    return Finding(
        rule="position-conflict",
        severity=Severity.WARNING,
        subject=node.tag,
        message=f"{node.tag} needs {size} positions; one panel interior has at most {LARGEST_INTERIOR}",
        span=node.item.tag_span,
        help="write `sections 2`, or divide the circuits over two panels",
        clause="common practice, no source",
    )
