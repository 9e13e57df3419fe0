"""One placed request as a row of a schedule."""

from __future__ import annotations

from fedfrom.formulas.demand_ranges import range_demand_kw
from fedfrom.formulas.load_phases import PhaseLoad, by_phase
from fedfrom.graph.network import Node
from fedfrom.model.items import Load, Status
from fedfrom.passes.circuit_requests import Placed, Request
from fedfrom.passes.demand_tables import range_rows
from fedfrom.passes.load_amounts import load_current
from fedfrom.passes.load_lines import LineLoad, implied_length_ft
from fedfrom.passes.work import Work
from fedfrom.results.types import CircuitResult


def circuit_row(work: Work, node: Node, placed: Placed, on_phases: PhaseLoad | None) -> CircuitResult:
    """The row; devices and conductors are left open for sizing."""
    request = placed.request
    first = placed.positions[0] if placed.positions else placed.order
    counted = on_phases is not None and not request.status.is_gone
    va = None if on_phases is None else sum(by_phase(on_phases))
    line = request.line
    return CircuitResult(
        key=f"{node.tag}.{first}",
        gear=node.tag,
        kind=request.kind,
        positions=placed.positions,
        order=placed.order,
        poles=request.poles,
        phases=placed.phases,
        name=request.name,
        tag=request.tag,
        category=category_of(request),
        connected_va=va,
        va_by_phase=by_phase(on_phases) if on_phases is not None and counted else (0.0, 0.0, 0.0),
        load_a=_load_a(work, request),
        continuous=any(_takes_125(entry) for entry in request.lines),
        continuous_a=_continuous_a(work, request),
        device=None,
        conductors=None,
        length_ft=_length(node, request),
        feeder_id=request.edge.id if request.edge is not None else "",
        pinned=bool(request.positions),
        notes=(*_notes(request), *placed.notes),
        detail=detail_of(request),
        multiwire=request.multiwire,
        motor_hp=_horsepower(request),
        table_a=_table_a(request),
        mca_a=line.amount.mca_a if line is not None else None,
        mocp_a=line.amount.mocp_a if line is not None else None,
        status=request.status,
        by=line.by if line is not None else (request.edge.feed.by if request.edge and request.edge.feed else ""),
        span=request.span,
    )


def category_of(request: Request) -> str:
    """The load categories on a row, each once, in the order of the text; "feeder" for a feeder."""
    if request.edge is not None:
        return "feeder"
    if not request.lines:
        return request.kind
    return ", ".join(dict.fromkeys(line.load.kind for line in request.lines))


def detail_of(request: Request) -> str:
    """What a row adds to its name: outlets, horsepower, drive, nameplate; its number where a load takes several."""
    parts = [_size_text(line, request) for entry in request.lines if (line := entry.part) is not None]
    if request.of > 1 and request.kind == "load":
        parts.append(f"{request.number} of {request.of}")
    return ", ".join(dict.fromkeys(part for part in parts if part))


def _size_text(part: Load, request: Request) -> str:
    amount = part.amount
    words = []
    if amount.form == "outlets":
        count = request.outlets if request.outlets is not None and len(request.lines) == 1 else amount.quantity
        words.append(f"{count:g} outlet{'' if count == 1 else 's'}")
    elif amount.form == "hp" and amount.quantity is not None:
        words.append(f"{horsepower_text(amount.quantity)} hp")
    elif amount.form == "w" and part.kind == "motor" and amount.quantity is not None:
        words.append(f"{amount.quantity / 1000:g} kW")
    elif amount.form == "mca" and amount.mca_a is not None:
        words.append(f"MCA {amount.mca_a:g} A")
    if part.facts.first("drive") is not None:
        words.append("drive")
    elif part.facts.first("soft starter") is not None:
        words.append("soft starter")
    return ", ".join(words)


def horsepower_text(hp: float) -> str:
    """Horsepower as spoken: "7-1/2", "1/2", "25"."""
    whole = int(hp)
    fractions = {0.1667: "1/6", 0.25: "1/4", 0.3333: "1/3", 0.5: "1/2", 0.75: "3/4"}
    for value, text in fractions.items():
        if abs(hp - whole - value) < 0.001:
            return f"{whole}-{text}" if whole else text
    return f"{hp:g}"


def _notes(request: Request) -> tuple[str, ...]:
    line = request.line
    if line is None:
        return ()
    notes: list[str] = []
    for part in line.parts or (line,):
        for fact in part.facts.all("note"):
            notes.extend(str(value) for value in fact.values.values() if isinstance(value, str))
        through = part.facts.word("through")
        if through is not None:
            notes.append(f"through contactor {through.value}")
        if part.cord:
            notes.append(f"cord {part.cord}")
    if request.status is Status.FUTURE:
        notes.append("future: not in the totals")
    return tuple(dict.fromkeys(notes))


def _length(node: Node, request: Request) -> float | None:
    if request.line is not None:
        return request.line.length_ft.value if request.line.length_ft is not None else None
    if request.kind == "load":
        return implied_length_ft(node)
    if request.edge is not None and request.edge.feed is not None and request.edge.feed.length_ft is not None:
        return request.edge.feed.length_ft.value
    return None


def _load_a(work: Work, request: Request) -> float | None:
    """The current of one circuit, A; the greatest pole's of a multiwire circuit. None for feeders and reserves.

    Several built-in cooking units on one circuit count as one range of their sum, one alone by its nameplate
    (Table 220.55, note 4).
    """
    if not request.lines or any(entry.load.va is None for entry in request.lines):
        return None
    total = sum(_entry_a(entry, request) for entry in request.lines if not _is_range(entry))
    cooking = [entry for entry in request.lines if _is_range(entry)]
    if cooking:
        va = sum(_entry_va(entry, request) for entry in cooking)
        if len(cooking) > 1 or not is_built_in(cooking[0]):
            va = min(va, 1000 * range_demand_kw([va / 1000], range_rows(work.edition)))
        total += load_current(va, cooking[0].connection) or 0.0
    return total


def _continuous_a(work: Work, request: Request) -> float | None:
    """The part of the current that takes 125 %, A: all of a continuous circuit, its continuous loads of a mixed one."""
    if not request.lines or any(entry.load.va is None for entry in request.lines):
        return None
    return sum(_entry_a(entry, request) for entry in request.lines if _takes_125(entry))


def _takes_125(entry: LineLoad) -> bool:
    return entry.circuit_continuous and not entry.amount.included_125


def _is_range(entry: LineLoad) -> bool:
    return entry.load.kind == "range"


def is_built_in(entry: LineLoad) -> bool:
    """Whether a cooking load is a wall-mounted oven or a counter-mounted unit."""
    return entry.part is not None and entry.part.facts.first("cooking unit") is not None


def _entry_va(entry: LineLoad, request: Request) -> float:
    va = (entry.load.va or 0.0) * request.share
    return va / request.poles if request.multiwire else va


def _entry_a(entry: LineLoad, request: Request) -> float:
    return load_current(_entry_va(entry, request), entry.connection) or 0.0


def _horsepower(request: Request) -> float | None:
    """The horsepower of a motor as written, of one written in kW that of its row of the table."""
    line = request.line
    if line is None or line.amount.form not in ("hp", "w"):
        return None
    if line.amount.form == "hp":
        return line.amount.quantity
    return request.lines[0].amount.hp if len(request.lines) == 1 else None


def _table_a(request: Request) -> float | None:
    return request.lines[0].amount.table_a if len(request.lines) == 1 else None
