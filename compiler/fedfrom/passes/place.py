"""Where gear stands, and the enclosure type that the place asks for (NEC Table 110.28)."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.model.fact_reading import words
from fedfrom.model.items import Fact, Item, Model
from fedfrom.source import Span
from fedfrom.tables import Edition

INSIDE_WORDS = ("indoor", "outdoor")


@dataclass(frozen=True, slots=True)
class Place:
    """`text` for the reader ("E101, Main electrical"; "outdoor, Roof"), `outdoor`, and the words of the conditions.

    `space` is what the place counts as by the code ("bathroom"), "" where only its name speaks.
    """

    text: str
    outdoor: bool
    conditions: tuple[str, ...]
    span: Span | None
    space: str = ""


def place_of(model: Model, item: Item) -> Place | None:
    """The place of an item, else of the gear that it stands in, or None where none is stated."""
    fact = item.facts.first("place")
    seen = {item.tag}
    while fact is None and item.enclosing and item.enclosing not in seen:
        seen.add(item.enclosing)
        item = model.items[item.enclosing]
        fact = item.facts.first("place")
    return _read(model, fact) if fact is not None else None


def _read(model: Model, fact: Fact) -> Place:
    room = fact.values.get("room")
    where = str(fact.values.get("where", ""))
    name = str(fact.values.get("name", ""))
    found = words(fact)
    outdoor = where == "outdoor"
    conditions = tuple(word for word in found if word in _CONDITIONS and word != where)
    text = ", ".join(part for part in (where, name) if part)
    if isinstance(room, str):
        known = model.rooms.get(room)
        text = f"{room}, {known.title}" if known is not None and known.title else room
    text = ", ".join((text, *conditions))
    return Place(text, outdoor, conditions, fact.span, space_of(model, fact))


def space_of(model: Model, fact: Fact) -> str:
    """What a `place` counts as: its own `counts as`, else that of its room, else ""."""
    own = fact.options.get("counts as")
    if own is not None:
        return str(own.get("space", ""))
    room = model.rooms.get(str(fact.values.get("room", "")))
    stated = room.facts.first("counts as") if room is not None else None
    return str(stated.values.get("space", "")) if stated is not None else ""


_CONDITIONS = ("damp", "wet", "washdown", "dusty", "corrosive", "oily")


@dataclass(frozen=True, slots=True)
class EnclosureChoice:
    """The plainest type that satisfies the place, and the columns of Table 110.28 that it had to satisfy."""

    type: str
    needs: tuple[str, ...]


def needed_enclosure(edition: Edition, place: Place) -> EnclosureChoice | None:
    """The plainest enclosure type for a place, or None where no type satisfies all its conditions."""
    needs = _needs(edition, place)
    ranked = sorted(edition.rows("enclosure_preference"), key=lambda row: int(row["rank"]))
    for row in ranked:
        if satisfies(edition, row["type"], place.outdoor, needs):
            return EnclosureChoice(row["type"], needs)
    return None


def enclosure_serves(edition: Edition, type_: str, place: Place) -> bool:
    """Whether an enclosure type satisfies a place."""
    return satisfies(edition, type_, place.outdoor, _needs(edition, place))


def _needs(edition: Edition, place: Place) -> tuple[str, ...]:
    column = "outdoor_needs" if place.outdoor else "indoor_needs"
    wanted = ("outdoor" if place.outdoor else "indoor", *place.conditions)
    rows = {row["word"]: row[column] for row in edition.rows("place_conditions")}
    return tuple(dict.fromkeys(rows[word] for word in wanted if rows.get(word)))


def satisfies(edition: Edition, type_: str, outdoor: bool, needs: tuple[str, ...]) -> bool:
    """Whether a row of Table 110.28 for this use has every need; indoors an outdoor type may serve a need too."""
    uses = ("outdoor",) if outdoor else ("indoor", "outdoor")
    for row in edition.rows("nema_enclosures_110_28"):
        if row["type"] != type_ or row["use"] not in uses:
            continue
        if row["use"] == "outdoor" and not outdoor and not needs:
            continue
        if all(row[need] == "1" for need in needs):
            return True
    return False
