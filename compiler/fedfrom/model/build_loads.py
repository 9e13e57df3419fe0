"""Load, spare and space lines -> `Load`s and `Reserve`s."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from fedfrom.findings import Finding
from fedfrom.findings.finding import Label
from fedfrom.model.build_feeds import Surroundings, rest_as_facts
from fedfrom.model.build_values import (
    CONDUCTOR_RUNS,
    DEVICE_RUNS,
    build_conductors,
    build_device,
    build_runs,
    find,
    number,
    total_length,
)
from fedfrom.model.items import Load, LoadAmount, Reserve, Value
from fedfrom.model.lower_phrases import error
from fedfrom.model.lowered import LoweredLine, LoweredRun
from fedfrom.quantity import Dimension, Quantity, VoltageSystem
from fedfrom.source import Span

_FORMS = {
    Dimension.APPARENT: "va",
    Dimension.REAL: "w",
    Dimension.CURRENT: "a",
    Dimension.SHAFT: "hp",
}
_TAKEN = (
    DEVICE_RUNS
    | CONDUCTOR_RUNS
    | {"length", "at", "run", "supply", "continuous", "noncontinuous", "multiwire", "cord", "long-time", "mocp"}
)

# General loads, which are divided over as many circuits as they take. Where volts to neutral are written, each position
# of such a load is a circuit.
DIVIDED_KINDS = frozenset({"lighting", "receptacles", "show-window", "track"})


def build_loads(lines: Sequence[LoweredLine], around: Surroundings, findings: list[Finding]) -> tuple[Load, ...]:
    """The loads of one item, in the order written."""
    return tuple(build_load(line, index, around, findings) for index, line in enumerate(lines))


def build_load(line: LoweredLine, index: int, around: Surroundings, findings: list[Finding]) -> Load:
    """One load line, or a `circuit` with the loads on it."""
    runs = line.options
    subject = load_subject(line, around.tag)
    routes = build_runs(runs, around.wire)
    volts, phases = _supply(line)
    inner = replace(around, status=line.status or around.status)
    parts = build_loads(line.children, inner, findings)
    count = line.modifiers.times or 1
    load = Load(
        kind=line.entry.name,
        tag=str(line.head.values.get("tag", "")),
        name=str(line.head.values.get("name", "")),
        amount=build_amount(line),
        span=line.span,
        index=index,
        positions=line.positions,
        positions_span=line.positions_span,
        volts=volts,
        phases=phases,
        length_ft=total_length(runs, routes),
        at_ft=number(line.along, "along") or number(find(runs, "at"), "along"),
        count=count,
        continuous=_continuous(runs, subject, findings),
        multiwire=find(runs, "multiwire") is not None,
        cord=_cord(find(runs, "cord")),
        device=build_device(runs, subject, findings),
        conductors=build_conductors(runs, around.wire),
        parts=parts,
        facts=rest_as_facts(runs, _TAKEN),
        status=line.status or around.status,
        by=line.by,
        trail=line.trail,
    )
    findings.extend(_load_findings(load, line, subject))
    return load


def load_subject(line: LoweredLine, gear: str) -> str:
    """The load in the trade's words: `LP1.3`, else its tag, else `LP1 "Break room"`."""
    if line.positions:
        return f"{gear}.{line.positions[0]}"
    tag = str(line.head.values.get("tag", ""))
    name = str(line.head.values.get("name", ""))
    return tag or (f'{gear} "{name}"' if name else f"{gear} {line.entry.name}")


def build_amount(line: LoweredLine) -> LoadAmount:
    """How big the load is, in the way that it was written."""
    head = line.head
    values = head.values
    assumed = head.modifiers.assumed or line.modifiers.assumed
    said = {"assumed": assumed, "reason": head.modifiers.reason or line.modifiers.reason}
    span = head.spans.get("amount") or head.span
    base = LoadAmount("none", span=span, **said)  # type: ignore[arg-type]
    amount, area = values.get("amount"), values.get("area")
    if isinstance(amount, Quantity):
        return replace(base, form=_FORMS[amount.dimension], quantity=float(amount))
    if isinstance(values.get("outlets"), int):
        return replace(base, form="outlets", quantity=float(values["outlets"]))  # type: ignore[arg-type]
    if isinstance(area, Quantity):
        density = values.get("density")
        if isinstance(density, Quantity):
            return replace(base, form="va", quantity=float(area) * float(density), area_ft2=float(area))
        return replace(base, form="area", area_ft2=float(area), occupancy=str(values.get("occupancy", "")))
    if isinstance(values.get("mca"), Quantity):
        mocp = number(line.option("mocp"), "mocp")
        mca = float(values["mca"])  # type: ignore[arg-type]
        return replace(base, form="mca", mca_a=mca, mocp_a=mocp.value if mocp else None)
    if isinstance(values.get("along"), Quantity):
        return replace(base, form="length", quantity=float(values["along"]))  # type: ignore[arg-type]
    momentary = values.get("momentary")
    if isinstance(momentary, Quantity):
        return _x_ray(line, base, momentary)
    return base


def _x_ray(line: LoweredLine, base: LoadAmount, momentary: Quantity) -> LoadAmount:
    """X-ray ratings in VA; amperes only where volts are written (then V x A, single-phase or sqrt 3 for three)."""
    volts, phases = _supply(line)
    factor = (volts.value * (3**0.5 if phases == 3 else 1.0)) if volts else None

    def in_va(quantity: object) -> float | None:
        if not isinstance(quantity, Quantity):
            return None
        if quantity.dimension is Dimension.CURRENT:
            return float(quantity) * factor if factor else None
        return float(quantity)

    longtime = line.option("long-time")
    first = in_va(momentary)
    if first is None:
        return base
    return replace(
        base, form="x-ray", momentary_va=first, longtime_va=in_va(longtime.values.get("longtime")) if longtime else None
    )


def _supply(line: LoweredLine) -> tuple[Value[float] | None, int | None]:
    """Volts and phases as written on the load line."""
    run = line.option("supply")
    phases = line.head.values.get("phases")
    if run is None:
        return None, int(str(phases)) if phases else None
    system = run.values.get("system")
    if isinstance(system, VoltageSystem):
        volts = Value(system.line_to_line_v, span=run.span, assumed=run.modifiers.assumed)
        return volts, system.phases or None
    phases = run.values.get("phases", phases)
    return number(run, "volts"), int(str(phases)) if phases else None


def _continuous(runs: Sequence[LoweredRun], subject: str, findings: list[Finding]) -> bool | None:
    yes, no = find(runs, "continuous"), find(runs, "noncontinuous")
    if yes is not None and no is not None:
        message = "a load is either continuous or noncontinuous"
        findings.append(error("written-twice", subject, message, no.span, "and this", "keep one of the two words"))
    if yes is not None:
        return True
    return False if no is not None else None


def _cord(run: LoweredRun | None) -> str:
    return "" if run is None else str(run.values.get("cord", ""))


def _load_findings(load: Load, line: LoweredLine, subject: str) -> list[Finding]:
    found: list[Finding] = []
    if find(line.options, "length") is not None and find(line.options, "run") is not None:
        message = "a length and `run` lines say the length twice"
        advice = "with `run` lines the length is their sum: take the other out"
        span = find(line.options, "length").span  # type: ignore[union-attr]
        found.append(error("written-twice", subject, message, span, "the total", advice))
    if load.kind == "circuit" and not load.parts and not line.block_broken:
        message = "a `circuit` has no loads"
        advice = "put its loads into its braces, or write the one load directly"
        found.append(error("missing-value", subject, message, line.head_span, "", advice))
    found += _position_findings(load, line, subject)
    demand = line.option("demand")
    if demand is not None and not (demand.modifiers.reason or line.modifiers.reason):
        message = "a demand factor of one's own needs a reason"
        advice = 'write `demand 70 % because "…"`'
        found.append(error("missing-reason", subject, message, demand.span, "why?", advice))
    return found


def _position_findings(load: Load, line: LoweredLine, subject: str) -> list[Finding]:
    """Poles, volts and phases that disagree with the positions."""
    count = len(load.positions)
    if not count or load.positions_span is None:
        return []
    if count % load.count:
        message = f"{count} positions cannot be shared by {load.count} circuits"
        advice = f"name as many positions as the {load.count} circuits take, or leave them open"
        return [error("poles-disagree", subject, message, load.positions_span, "", advice)]
    each = count // load.count
    supply = line.option("supply")
    other = Label(supply.span, "volts and phases") if supply else None
    related = (other,) if other else ()
    wrong = ""
    if load.multiwire:
        wrong = "" if each in {2, 3} else "a multiwire circuit takes two or three positions"
    elif each > 3 and not (load.volts is not None and load.kind in DIVIDED_KINDS):
        wrong = f"one circuit takes one to three positions, not {each}"
    elif load.phases == 3 and each != 3:
        wrong = f"a three-phase load takes three positions, not {each}"
    elif load.phases == 1 and each == 3:
        wrong = "a single-phase load takes one or two positions, not three"
    if not wrong:
        return []
    advice = "name the positions that it takes, or leave them open; `x 4` makes four circuits of it"
    return [replace(error("poles-disagree", subject, wrong, load.positions_span, "", advice), related=related)]


def build_reserve(line: LoweredLine, around: Surroundings) -> Reserve | None:
    """A `spare` or `space` line; None where it could not be read."""
    values = line.head.values
    if line.broken and not values:
        return None
    rating = number(line.head, "rating")
    times = line.modifiers.times or 1
    poles, count = 1, times
    if isinstance(values.get("poles"), str):
        poles = int(str(values["poles"]))
    elif isinstance(values.get("poles_of_each"), str):
        poles = int(str(values["poles_of_each"]))
    elif isinstance(values.get("poles"), int):
        count = int(values["poles"]) * times  # type: ignore[call-overload]
    elif line.positions:
        poles = max(1, len(line.positions) // times)
    return Reserve(
        kind=line.entry.name,
        rating_a=rating.value if rating else None,
        poles=poles,
        count=count,
        positions=line.positions,
        span=line.span,
        status=line.status or around.status,
        device_kind=str(values.get("device", "breaker")),
    )


def tag_span(line: LoweredLine) -> Span:
    """Where the tag of a load stands."""
    return line.head.spans.get("tag", line.head_span)
