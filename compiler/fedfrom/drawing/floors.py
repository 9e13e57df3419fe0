"""Which storey a thing stands on: as stated, else read from its name, else taken from what it feeds."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from fedfrom.drawing.lettering import capitals
from fedfrom.graph.network import Network
from fedfrom.model.items import Fact, Item, Model
from fedfrom.quantity import Quantity

_IN_NAME = re.compile(r"\b(?:level|floor|storey)\s+(-?\d+|[A-Z]\d*)\b", re.IGNORECASE)
_BELOW = re.compile(r"(?:B|basement\s*)(\d*)", re.IGNORECASE)
NOT_STATED = "LEVEL NOT STATED"
OUTDOOR = "OUTDOOR"


@dataclass(frozen=True, slots=True)
class Floor:
    """A storey: `name` as lettered, `height` orders storeys from below; `stated` False where it was inferred."""

    name: str
    height: float
    stated: bool = True


def floors_of(network: Network, model: Model) -> dict[str, Floor]:
    """The storey of every node. What stands nowhere, and feeds nothing that does, gets `NOT_STATED`."""
    found: dict[str, Floor] = {}
    for tag, node in network.nodes.items():
        floor = _stated(node.item, model) or _named(node.item)
        if floor is not None:
            found[tag] = floor
    for _ in range(3):
        for tag, node in reversed(list(network.nodes.items())):
            if tag not in found and node.item.facts.first("place") is None:
                _from_neighbour(tag, network, found)
    return {tag: found.get(tag, Floor(NOT_STATED, -1000.0, False)) for tag in network.nodes}


def _from_neighbour(tag: str, network: Network, found: dict[str, Floor]) -> None:
    """What has no place of its own is taken to stand with what it feeds."""
    for edge in network.outgoing.get(tag, ()):
        near = found.get(network.edges[edge].target)
        if near is not None:
            found[tag] = Floor(near.name, near.height, False)
            return


def _stated(item: Item, model: Model) -> Floor | None:
    fact = item.facts.first("place")
    seen = {item.tag}
    while fact is None and item.enclosing and item.enclosing not in seen and item.enclosing in model.items:
        seen.add(item.enclosing)
        item = model.items[item.enclosing]
        fact = item.facts.first("place")
    if fact is None:
        return None
    own = _level(fact.options.get("level", {}))
    if own is not None:
        return own
    room = model.rooms.get(str(fact.values.get("room", "")))
    level = room.facts.first("level") if room is not None else None
    if level is not None:
        return _level(level.values)
    return _in_words(fact) or (Floor(OUTDOOR, -500.0) if fact.values.get("where") == "outdoor" else None)


def _level(values: Mapping[str, object]) -> Floor | None:
    number, name = values.get("level"), values.get("name")
    if isinstance(number, Quantity):
        return Floor(f"LEVEL {float(number):g}", float(number))
    if isinstance(name, str):
        return floor_named(name)
    return None


def floor_named(name: str) -> Floor:
    """The storey of a name: "B1" and "Basement 2" below zero, "12" by its number, other names above all."""
    below = _BELOW.fullmatch(name.strip())
    if below is not None:
        return Floor(capitals(f"LEVEL {name}" if len(name) < 4 else name), -float(below[1] or 1))
    try:
        return Floor(f"LEVEL {float(name):g}", float(name))
    except ValueError:
        return Floor(capitals(name), 900.0)


def _in_words(fact: Fact) -> Floor | None:
    return _match(str(fact.values.get("name", "")))


def _named(item: Item) -> Floor | None:
    return _match(item.title)


def _match(text: str) -> Floor | None:
    found = _IN_NAME.search(text)
    if found is None:
        return None
    floor = floor_named(found[1])
    return Floor(floor.name if floor.height < 900.0 else f"LEVEL {floor.name}", floor.height, False)
