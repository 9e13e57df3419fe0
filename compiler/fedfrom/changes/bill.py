"""Quantities of the bill that changed."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from fedfrom.changes.causes import Causes, Pair
from fedfrom.changes.names import Naming
from fedfrom.changes.types import BillChange, Cause, Written
from fedfrom.results.types import BillLine

Key = tuple[str, str, str, str, str]


@dataclass(frozen=True, slots=True)
class _Total:
    line: BillLine
    quantity: float
    tags: tuple[str, ...]


def bill_changes(old: Naming, new: Naming, causes: Causes) -> tuple[BillChange, ...]:
    """Lines of the new bill in its order, then lines that are gone. Lines of one key count together."""
    before, after = _totals(old), _totals(new)
    places = _circuit_places(old, new)
    found = []
    for key in {**after, **before}:
        one, other = before.get(key), after.get(key)
        total = other or one
        assert total is not None
        was, now = (one.quantity if one else 0.0), (other.quantity if other else 0.0)
        if abs(was - now) < 1e-6:
            continue
        tags = tuple(dict.fromkeys((*(other.tags if other else ()), *(one.tags if one else ()))))
        line = total.line
        found.append(
            BillChange(line.list_name, line.description, line.unit, was, now, _because(line, tags, causes, places))
        )
    lists = list(dict.fromkeys(line.list_name for line in (*old.side.results.bill, *new.side.results.bill)))
    return tuple(sorted(found, key=lambda each: lists.index(each.list_name)))


def _totals(naming: Naming) -> dict[Key, _Total]:
    totals: dict[Key, _Total] = {}
    for line in naming.side.results.bill:
        key = (line.list_name, line.section, line.key, line.kind, line.status)
        tags = tuple(naming.tag(tag) for tag in line.tags)
        known = totals.get(key)
        totals[key] = _Total(
            line, line.quantity + (known.quantity if known else 0.0), (*(known.tags if known else ()), *tags)
        )
    return totals


# What decides a line, by the beginning of its key: the last part of the values to look at first.
_DECIDES = {
    "conductor": ("conductors", "length"),
    "raceway": ("conductors", "length"),
    "device": ("device", "interrupting", "main"),
    "fuse": ("device", "main"),
    "transformer": ("kva", "systems"),
}
_NEVER = frozenset({"Voltage drop", "Fault current", "Loads", ""})


def _because(line: BillLine, tags: tuple[str, ...], causes: Causes, places: Mapping[str, str]) -> tuple[Cause, ...]:
    """The chain of the first of the changed selections for which the line is bought."""
    owners = {place for tag in tags for place in (tag, tag.partition(".")[0], places.get(tag, "")) if place}
    decides = next((parts for start, parts in _DECIDES.items() if line.key.startswith(start)), ())
    selected = [
        key
        for key, pair in causes.pairs.items()
        if pair.shows and (pair.any_side.area not in _NEVER or key.endswith("/length")) and _owned(key, owners)
    ]
    size = _size(line)
    selected.sort(key=lambda key: (key.rpartition("/")[2] not in decides, not size(causes.pairs[key])))
    statements = ("feed", "load", "fact", "main", "spare", "space")
    written = [Written(f"{tag}/{part}") for tag in sorted(owners) for part in statements]
    because, _ = causes.chain("", (*selected, *(Written(tag) for tag in sorted(owners)), *written))
    return because


def _size(line: BillLine) -> Callable[[Pair], bool]:
    """Whether a change takes the size of the line ("12 AWG", "2 inch") in or out; a size it keeps may change length."""
    size = re.compile(rf"(?<![\d/-]){re.escape(line.description.rpartition(', ')[2])}")

    def is_meant(pair: Pair) -> bool:
        counts = [len(size.findall(fact.text)) if fact is not None else 0 for fact in (pair.before, pair.after)]
        return counts[0] != counts[1]

    return is_meant


def _owned(key: str, owners: set[str]) -> bool:
    """Whether a value belongs to one of the things: "feeder/DP1/device" to DP1, "circuit/DP1/BW-1/device" to both."""
    first, _, rest = key.partition("/")
    inside = key.rpartition("/")[0]
    return rest.partition("/")[0] in owners or (first == "circuit" and inside in owners)


def _circuit_places(*namings: Naming) -> dict[str, str]:
    """Of a position ("MSB.7") and of the tag of a load: the feeder or circuit that is there."""
    places: dict[str, str] = {}
    for naming in namings:
        for gear in naming.side.results.circuits:
            for key, _, row in naming.circuits(gear):
                place = naming.tag(row.feeder_id) if row.kind == "feeder" else f"circuit/{naming.tag(gear)}/{key}"
                places[naming.tag(row.key)] = place
                if row.tag and row.kind != "feeder":
                    places[row.tag] = place
    return places
