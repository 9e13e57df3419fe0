"""Loads with their rows, where they are, and the facts of a project that only an issued design has."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fedfrom.model.fact_reading import words
from fedfrom.model.items import Item, Load, Status
from fedfrom.passes.place import space_of
from fedfrom.results.types import CircuitResult
from fedfrom.rules.registry import Design
from fedfrom.source import Span


@dataclass(frozen=True, slots=True)
class PlacedLoad:
    """A load line with the row of the schedule that it became; `part` is one of a circuit with several loads."""

    item: Item
    row: CircuitResult
    load: Load
    part: Load

    @property
    def subject(self) -> str:
        return self.row.key

    @property
    def span(self) -> Span:
        return self.part.span

    @property
    def options(self) -> frozenset[str]:
        return frozenset(self.row.device.options) if self.row.device is not None else frozenset()


def placed_loads(design: Design, *kinds: str, status: tuple[Status, ...] = (Status.NEW,)) -> Iterator[PlacedLoad]:
    """Every load of these kinds (all without any) with its row, in the order of the schedules."""
    for tag, rows in design.results.circuits.items():
        item = design.model.items.get(tag)
        if item is None:
            continue
        by_tag = {load.tag: load for load in item.loads if load.tag}
        by_span = {load.span: load for load in item.loads}
        for row in rows:
            if row.kind not in ("load", "tap") or row.status not in status:
                continue
            load = by_tag.get(row.tag) or (by_span.get(row.span) if row.span is not None else None)
            for part in (load.parts or (load,)) if load is not None else ():
                if load is not None and (not kinds or part.kind in kinds):
                    yield PlacedLoad(item, row, load, part)


def for_issue(design: Design) -> bool:
    """Whether the project has a `revision`: it goes out of the house, so that its gaps are asked for one by one.

    In a draft they are counted as not checked, and listed in the review, without a finding for each.
    """
    return design.model.project.facts.first("revision") is not None


def place_words(placed: PlacedLoad) -> tuple[str, ...]:
    """The words of the places of a load: its own conditions and its room ("wet", "outdoor", "bathroom 112")."""
    found: list[str] = []
    for owner in (placed.part, placed.load):
        for fact in owner.facts.facts:
            if fact.name in ("place", "place words"):
                found += [word.lower() for word in words(fact)]
    return tuple(dict.fromkeys(found))


def load_space(design: Design, placed: PlacedLoad) -> str:
    """What the place of a load counts as by the code ("kitchen"), its own word or its room's; "" where none says so."""
    for owner in (placed.part, placed.load):
        own = owner.facts.first("counts as")
        if own is not None:
            return str(own.values.get("space", ""))
        place = owner.facts.first("place")
        space = space_of(design.model, place) if place is not None else ""
        if space:
            return space
    return ""


def occupancy_of(design: Design) -> str:
    """The main occupancy of the project, "" where it is not stated."""
    fact = design.model.project.facts.first("occupancy")
    return str(fact.values.get("occupancy", "")) if fact is not None else ""


def listing(tags: list[str], most: int = 4) -> str:
    """ "A, B, C and 3 more" for the tags of a finding that speaks of several."""
    unique = list(dict.fromkeys(tags))
    if len(unique) <= most:
        return ", ".join(unique)
    return f"{', '.join(unique[:most])} and {len(unique) - most} more"
