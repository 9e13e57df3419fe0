"""The rooms pass: what stands in each room, its working space, entrances and doors, and whether it can stand there.

It claims total wall length, depth, height, doors and entrances, and no more. Where the text is silent the plan takes
something and says so; what is not known makes the room *not checked*.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from fedfrom.formulas.working_space import CONDITIONS
from fedfrom.model.fact_reading import amount, words
from fedfrom.model.items import Fact, Room
from fedfrom.passes.line_up_derivation import working_space_derivation
from fedfrom.passes.room_contents import Content, contents
from fedfrom.passes.room_fit import Filled, Fit, fill
from fedfrom.passes.work import Pass, Work
from fedfrom.quantity import Dimension, Quantity
from fedfrom.results.assembly import RoomDoor, RoomResult


def run(work: Work) -> Work:
    """Fill `rooms`, in source order."""
    rooms = {tag: _room(work, room) for tag, room in work.model.rooms.items()}
    derivations = dict(work.derivations)
    for room in rooms.values():
        for item in room.items:
            found = working_space_derivation(work.edition, room, item)
            if found is not None:
                derivations[found.subject] = found
    return replace(work, rooms=rooms, derivations=derivations)


def _room(work: Work, room: Room) -> RoomResult:
    size = room.facts.first("size")
    length, width = _length(size, "length"), _length(size, "width")
    height = amount(room.facts.first("height"), Dimension.LENGTH)
    facing = " ".join(words(room.facts.first("facing")))
    found = contents(work, room.tag, CONDITIONS.get(facing))
    doors = tuple(_door(fact) for fact in room.facts.all("door"))
    needed = [content.item.width_in for content in found if content.stands]
    known = [value for value in needed if value is not None]
    filled = Filled(tuple(content.item for content in found), doors, Fit((), (), ()))
    if length is not None and width is not None:
        filled = fill(work.edition, (length, width, height), found, doors)
    items, fit = filled.items, filled.fit
    missing = tuple(_missing(room, found, length, height))
    return RoomResult(
        tag=room.tag,
        title=room.title,
        level=_level(room),
        length_ft=length,
        width_ft=width,
        height_ft=height,
        facing=facing,
        items=items,
        doors=filled.doors,
        entrances_needed=2 if any(item.two_entrances for item in items) else 1,
        panic_hardware_needed=any(item.panic_hardware for item in items),
        wall_needed_ft=sum(known) / 12 if len(known) == len(needed) else None,
        fits=False if fit.misfits else (None if missing or fit.open_points or not items else True),
        needs=(*missing, *fit.open_points),
        misfits=fit.misfits,
        assumed=fit.assumed,
        span=room.span,
    )


def _length(fact: Fact | None, part: str) -> float | None:
    value = fact.values.get(part) if fact is not None else None
    return float(value) if isinstance(value, Quantity) else None


def _level(room: Room) -> str:
    fact = room.facts.first("level")
    if fact is None:
        return ""
    value = next(iter(fact.values.values()), "")
    return f"{float(value):g}" if isinstance(value, Quantity) else str(value)


def _door(fact: Fact) -> RoomDoor:
    swings = str(fact.options.get("swings", {}).get("way", ""))
    wall = str(fact.options.get("wall", {}).get("wall", "")).removesuffix(" wall")
    if wall == "center":  # no place for a door
        wall = ""
    width = amount(fact, Dimension.LENGTH) or 0.0
    return RoomDoor(width, swings, "panic hardware" in fact.options, wall, None, bool(wall), fact.span)


def _missing(room: Room, found: tuple[Content, ...], length: float | None, height: float | None) -> Iterator[str]:
    """What the text would have to say before the room can be checked."""
    if length is None:
        yield f"`size` in room {room.tag}"
    if height is None:
        yield f"`height` in room {room.tag}"
    for content in found:
        if content.stands and content.item.width_in is None:
            yield f"the size of {content.item.tag}: a row for it in a dimension table of your own"
        elif content.block is None and content.stands:
            yield f"the voltage to ground at {content.item.tag}"
    if found and not room.facts.all("door"):
        yield f"`door` in room {room.tag}"


PASS = Pass("rooms", needs=frozenset({"gear", "transfers", "transformers"}), gives=frozenset({"rooms"}), run=run)
