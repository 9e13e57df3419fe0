"""Panel directory cards: each circuit and its specific purpose, by position; nothing transient (NEC 408.4(A))."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.documents.labels.label import Card, cited
from fedfrom.results.types import CircuitResult, GearResult
from fedfrom.rules.registry import Design

PANELS = ("panelboard", "load center", "isolated power panel")


def directory_cards(design: Design) -> tuple[Card, ...]:
    """A card for every panel with numbered positions, in source order."""
    return tuple(
        _card(design, gear)
        for gear in design.results.gear.values()
        if gear.gear_class in PANELS and not gear.status.is_gone and gear.positions_total
    )


def _card(design: Design, gear: GearResult) -> Card:
    feeder = next((each for each in design.results.feeders.values() if each.target == gear.tag), None)
    return Card(
        gear.tag,
        gear.title,
        gear.place,
        cited(design.edition, "408.4(A)"),
        gear.system.literal if gear.system is not None else "",
        feeder.source if feeder is not None else gear.fed_from,
        tuple(_lines(design, gear)),
    )


def _lines(design: Design, gear: GearResult) -> Iterator[tuple[str, str]]:
    for row in design.results.circuits.get(gear.tag, ()):
        if row.status.is_gone or not row.positions:
            continue
        yield ",".join(str(position) for position in row.positions), _purpose(design, row)


def _purpose(design: Design, row: CircuitResult) -> str:
    """What the circuit serves; spares and spaces say so."""
    if row.kind in ("spare", "space"):
        return row.kind.capitalize()
    feeder = design.results.feeders.get(row.feeder_id)
    target = feeder.target if feeder is not None else row.tag
    name = row.name or row.detail
    return " ".join(part for part in (target, name) if part) or "NOT NAMED"
