"""Rooms with what stands in them, for the rules on working space, and what is missing where no room is described."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.model.items import Status
from fedfrom.passes.place import place_of
from fedfrom.results.assembly import RoomItem, RoomResult
from fedfrom.rules.placed_loads import listing
from fedfrom.rules.registry import Design

ELSEWHERE = ("wireway", "busway", "disconnect")  # along walls and machines, seldom in a room of their own


def rooms_with_gear(design: Design) -> Iterator[RoomResult]:
    """Every described room in which gear stands."""
    yield from (room for room in design.results.rooms.values() if any(worked_on(room)))


def worked_on(room: RoomResult) -> Iterator[RoomItem]:
    """What is worked on live in a room: that has working space."""
    yield from (item for item in room.items if item.work_depth_ft is not None)


def without_room(design: Design) -> tuple[str, ...]:
    """New gear indoors whose room no statement describes, so that its working space is not known."""
    found = []
    for tag, gear in design.results.gear.items():
        item = design.model.items[tag]
        place = place_of(design.model, item)
        fact = item.facts.first("place")
        described = fact is not None and fact.values.get("room") in design.model.rooms
        if gear.status is not Status.NEW or gear.by or item.kind in ELSEWHERE or item.enclosing or described:
            continue
        if place is None or not place.outdoor:
            found.append(tag)
    return tuple(found)


def needs_rooms(design: Design) -> str:
    """What the checks of rooms lack in a design that describes no room, "" where some room is described."""
    tags = without_room(design)
    if not tags or design.results.rooms:
        return ""
    return f"a `room` with size, height and doors for {listing(list(tags))}"


def reach_rooms(design: Design) -> bool:
    """Whether gear stands inside a building."""
    return bool(without_room(design)) or any(True for _ in rooms_with_gear(design))
