"""Lowered lines -> `Model`: typed items in source order, defaults resolved, references checked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import TypeVar

from fedfrom.findings import Finding
from fedfrom.model.build_checks import ModelChecks
from fedfrom.model.build_cords import merge_cords
from fedfrom.model.build_defaults import build_defaults, build_project
from fedfrom.model.build_feeds import Surroundings
from fedfrom.model.build_items import ItemBuilder
from fedfrom.model.build_statements import (
    build_acceptance,
    build_contactor,
    build_expectation,
    build_interlock,
    build_noncoincident,
    build_room,
    build_state,
    build_tie,
)
from fedfrom.model.build_tags import CONTACTOR, ROOM, TIE, Named, Tags
from fedfrom.model.items import Assumption, Contactor, Model, Room, Status
from fedfrom.model.lower import Lowered
from fedfrom.model.lowered import LoweredLine, LoweredRun
from fedfrom.source import Span
from fedfrom.vocabulary import Vocabulary, load_vocabulary

T = TypeVar("T")
R = TypeVar("R", Room, Contactor)


@dataclass(frozen=True, slots=True)
class Built:
    """The model and what was found while it was built."""

    model: Model
    findings: tuple[Finding, ...]


def build(
    lowered: Lowered,
    *,
    incomplete: bool = False,
    lost_words: frozenset[str] = frozenset(),
    some_missing: bool = False,
    vocabulary: Vocabulary | None = None,
) -> Built:
    """Builds the model of a lowered project.

    `incomplete`: something before this could not be read; `lost_words`: words of the lines where that was;
    `some_missing`: a typical, loop or table could not be expanded.
    """
    words = vocabulary or load_vocabulary()
    findings: list[Finding] = []
    project = build_project(list(_named(lowered, "project")), findings)
    defaults, class_lines = build_defaults(list(_named(lowered, "defaults")), findings)
    builder = ItemBuilder(defaults, class_lines, findings)
    for line in lowered.lines:
        if line.entry.kind == "item":
            builder.add(line)
    items = merge_cords(builder.items, findings)
    around = Surroundings("", Status.NEW, defaults.wire, defaults.ambient_c)
    ties = [build_tie(line, index, around, findings) for index, line in enumerate(_named(lowered, "tie"))]
    rooms = _by_tag(build_room(line) for line in _named(lowered, "room"))
    contactors = _by_tag(build_contactor(line) for line in _named(lowered, "contactor"))
    catalog = next((line.head.values.get("path", "") for line in _named(lowered, "catalog")), "")
    model = Model(
        project=project,
        defaults=defaults,
        items=items,
        ties=_present(ties),
        interlocks=_present(build_interlock(line, findings) for line in _named(lowered, "interlock")),
        states=_present(build_state(line) for line in _named(lowered, "state")),
        noncoincident=_present(build_noncoincident(line) for line in _named(lowered, "noncoincident")),
        rooms=rooms,
        contactors=contactors,
        acceptances=tuple(build_acceptance(statement) for statement in lowered.accepts),
        expectations=_present(build_expectation(statement, findings) for statement in lowered.expects),
        assumptions=tuple(_assumptions(lowered.lines, "")),
        catalog=str(catalog),
        incomplete=incomplete or lowered.incomplete,
    )
    tags = Tags(lowered.lost_words | lost_words, findings, some_missing)
    for line in lowered.lines:
        _add_line(line, builder, model, tags)
    ModelChecks(model, tags, words, builder.lines, _places(lowered.lines)).run(lowered.accepts)
    broken = model.incomplete or any(finding.rule in {"duplicate-tag", "unknown-tag"} for finding in findings)
    return Built(replace(model, incomplete=broken), tuple(findings))


def _named(lowered: Lowered, name: str) -> Iterator[LoweredLine]:
    return (line for line in lowered.lines if line.entry.kind == "statement" and line.entry.name == name)


def _present(found: Iterable[T | None]) -> tuple[T, ...]:
    return tuple(thing for thing in found if thing is not None)


def _by_tag(found: Iterable[R | None]) -> dict[str, R]:
    """By tag; of two with one tag the first stays (the second is a finding)."""
    by_tag: dict[str, R] = {}
    for thing in found:
        if thing is not None:
            by_tag.setdefault(thing.tag, thing)
    return by_tag


def _add_line(line: LoweredLine, builder: ItemBuilder, model: Model, tags: Tags) -> None:
    """Adds the tags of a line in the order of the text, so that the later bearer of a tag is the one reported."""
    tag = line.head.values.get("tag")
    what = line.entry.name
    if not isinstance(tag, str) or (line.entry.kind != "item" and what not in {ROOM, CONTACTOR, TIE}):
        return
    tags.add(Named(tag, what, line.head.spans.get("tag", line.head_span), line.trail))
    if line.entry.kind != "item" or builder.lines.get(tag) is not line:
        return
    for load in model.items[tag].loads:
        tags.add_load(load, tag)
    for child in line.children:
        if child.entry.kind == "item":
            _add_line(child, builder, model, tags)


def _places(lines: Iterable[LoweredLine]) -> dict[tuple[Span, str], Span]:
    """Where the tags stand that ties, interlocks, states and noncoincident groups name, by line and text."""
    places: dict[tuple[Span, str], Span] = {}
    for line in lines:
        if line.entry.kind != "statement":
            continue
        runs = [*line.runs, *(run for child in line.children for run in child.runs)]
        for run in runs:
            for key, span in run.spans.items():
                value = run.values.get(key)
                places.setdefault((line.span, value if isinstance(value, str) else key), span)
    return places


def _assumptions(lines: Iterable[LoweredLine], subject: str) -> Iterator[Assumption]:
    """Every value written with `assumed because`, in the order of the text."""
    for line in lines:
        tag = line.head.values.get("tag")
        name = line.head.values.get("name")
        own = str(tag) if isinstance(tag, str) else (f'{subject} "{name}"' if isinstance(name, str) else subject)
        own = own or line.entry.name
        if line.modifiers.assumed and not line.head.modifiers.assumed:
            yield Assumption(own, line.head.shown, line.modifiers.reason, line.head_span)
        for run in line.runs:
            if run.modifiers.assumed:
                yield Assumption(own, _said(line, run), run.modifiers.reason, run.span)
        yield from _assumptions(line.children, own)


def _said(line: LoweredLine, run: LoweredRun) -> str:
    if run is line.head:
        return run.shown
    if line.entry.kind == "verb":
        return f"{line.head.shown}: {run.shown}"
    return f"{line.entry.name}: {run.shown}"
