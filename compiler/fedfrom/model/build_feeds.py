"""Feed lines -> `Feed`s, with their ids."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fedfrom.findings import Finding
from fedfrom.findings.finding import Label
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
from fedfrom.model.items import Fact, FactTable, Feed, Origin, Status, Value, Wire
from fedfrom.model.lower_phrases import error
from fedfrom.model.lowered import LoweredLine, LoweredRun
from fedfrom.source import Span

_TAKEN = DEVICE_RUNS | CONDUCTOR_RUNS | {"length", "at", "run", "ambient", "position", "opposite end", "volts", "meter"}


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What a line stands in: its gear's tag and status, and the defaults that apply there."""

    tag: str
    status: Status
    wire: Wire
    ambient_c: Value[float]


def build_feeds(lines: Sequence[LoweredLine], around: Surroundings, findings: list[Finding]) -> tuple[Feed, ...]:
    """The feeds of one item in the order written, each with its id. A line whose source is not known is left out."""
    known = [line for line in lines if "source" in line.head.values]
    ids = feeder_ids(around.tag, [(line.entry.name, str(line.head.values["source"])) for line in known])
    return tuple(_feed(line, feeder_id, around, findings) for line, feeder_id in zip(known, ids, strict=True))


def feeder_ids(tag: str, feeds: Sequence[tuple[str, str]]) -> tuple[str, ...]:
    """Ids of feeds given as (verb, source): the tag for a single one, else TAG.normal …, or TAG.SOURCE in parallel."""
    if len(feeds) == 1:
        return (tag,)
    verbs = [verb for verb, _ in feeds]
    ids: list[str] = []
    for verb, source in feeds:
        if verbs.count(verb) > 1 or verb == "connects to":
            name = f"{tag}.{source}"
        else:
            name = f"{tag}.{'normal' if verb == 'fed from' else verb.removesuffix(' from')}"
        again = sum(taken == name or taken.startswith(f"{name}-") for taken in ids)
        ids.append(name if not again else f"{name}-{again + 1}")
    return tuple(ids)


def _feed(line: LoweredLine, feeder_id: str, around: Surroundings, findings: list[Finding]) -> Feed:
    runs = line.options
    routes = build_runs(runs, around.wire)
    length = find(runs, "length")
    if length is not None and routes:
        findings.append(_length_and_runs(length, routes[0].span, around.tag))
    volts = find(runs, "volts")
    phases = volts.values.get("phases") if volts else None
    positions = find(runs, "position")
    numbers = positions.values.get("position", ()) if positions else ()
    ambient = number(find(runs, "ambient"), "ambient") or replace(around.ambient_c, origin=Origin.DEFAULT)
    return Feed(
        verb=line.entry.name,
        source=str(line.head.values["source"]),
        feeder_id=feeder_id,
        span=line.span,
        source_span=line.head.spans["source"],
        point=_point(line),
        length_ft=total_length(runs, routes),
        runs=routes,
        at_ft=number(line.head, "along") or number(find(runs, "at"), "along"),
        positions=_distinct(numbers, positions, around.tag, findings),
        positions_span=positions.span if positions else None,
        device=build_device(runs, around.tag, findings),
        conductors=build_conductors(runs, around.wire),
        ambient_c=ambient,
        meter=_meter(find(runs, "meter")),
        volts=number(volts, "volts"),
        phases=int(str(phases)) if phases else None,
        by=line.by or (length.modifiers.by if length else ""),
        status=line.status or around.status,
        trail=line.trail,
        facts=rest_as_facts(runs, _TAKEN),
    )


def rest_as_facts(runs: Sequence[LoweredRun], taken: frozenset[str]) -> FactTable:
    """The runs that have no field of their own, as facts by name."""
    return FactTable(tuple(run_fact(run) for run in runs if run.entry.kind != "device" and run.entry.name not in taken))


def run_fact(run: LoweredRun) -> Fact:
    """One run after a comma as a `Fact`."""
    said = run.modifiers
    return Fact(run.entry.name, dict(run.values), {}, run.span, said.assumed, said.reason, said.by, run.status)


def _point(line: LoweredLine) -> str:
    if line.option("opposite end") is not None:
        return "opposite end"
    return str(line.head.values.get("point", "bus"))


def _meter(run: LoweredRun | None) -> str:
    return "" if run is None else str(run.values.get("owner", "customer"))


def _distinct(numbers: object, run: LoweredRun | None, subject: str, findings: list[Finding]) -> tuple[int, ...]:
    found = tuple(number for number in numbers if isinstance(number, int)) if isinstance(numbers, tuple) else ()
    if run is not None and len(set(found)) < len(found):
        message = "a position is named twice"
        findings.append(error("malformed-position", subject, message, run.span, "", "name each position once"))
        return tuple(dict.fromkeys(found))
    return found


def _length_and_runs(length: LoweredRun, run: Span, subject: str) -> Finding:
    message = "a length on the head and `run` lines say the length twice"
    advice = "with `run` lines the length is their sum: take the one on the head out"
    finding = error("written-twice", subject, message, length.span, "the total", advice)
    return replace(finding, related=(Label(run, "a stretch of it"),))
