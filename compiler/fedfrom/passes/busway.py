"""Along a busway: what lies between its feed end and the place where something is plugged in.

The impedance is the maker's (`impedance … per …`); without it nothing along the busway is known, and fault currents
are taken as at its feed end, which is the safe side for ratings.
"""

from __future__ import annotations

from fedfrom.model.fact_reading import amount
from fedfrom.model.items import Item
from fedfrom.passes.motors import load_of
from fedfrom.passes.work import Work
from fedfrom.quantity import Dimension, Quantity
from fedfrom.results.types import CircuitResult

BUSWAY = "busway"


def impedance_per_ft(item: Item) -> complex | None:
    """R + jX of one phase of a busway for each foot, ohm; None where it is not stated."""
    fact = item.facts.first("impedance")
    if item.kind != BUSWAY or fact is None:
        return None
    r, x = fact.values.get("r"), fact.values.get("x")
    if not isinstance(r, Quantity) or not isinstance(x, Quantity):
        return None
    return complex(float(r), float(x)) / (amount(fact, Dimension.LENGTH) or 1000.0)


def circuit_place_ft(item: Item | None, row: CircuitResult) -> float:
    """How far along its busway a circuit is plugged in, ft; 0 on other gear."""
    load = load_of(item, row)
    if item is None or item.kind != BUSWAY or load is None or load.at_ft is None:
        return 0.0
    return load.at_ft.value


def feed_place_ft(work: Work, edge_id: str) -> float:
    """How far along its busway a feeder is plugged in, ft; 0 on other gear."""
    edge = work.network.edges[edge_id]
    source = work.model.items.get(edge.source)
    if edge.feed is None or edge.feed.at_ft is None or source is None or source.kind != BUSWAY:
        return 0.0
    return edge.feed.at_ft.value


def run_along(work: Work, tag: str, place_ft: float) -> complex | None:
    """R + jX from the feed end of a busway to a place on it, ohm; 0 at the feed end, None where it is not stated."""
    if place_ft == 0:
        return 0j
    item = work.model.items.get(tag)
    each = impedance_per_ft(item) if item is not None else None
    return None if each is None else each * place_ft


def moment_ft(work: Work, tag: str, place_ft: float) -> float:
    """The length that the whole load of a busway would flow to lose what is lost up to a place on it, ft.

    The sum of current times the length that it shares, over the sum of currents: I_i min(x, x_i) / I_i.
    """
    item = work.model.items.get(tag)
    shares = [
        (row.load_a, circuit_place_ft(item, row))
        for row in work.circuits.get(tag, ())
        if row.kind in ("load", "tap") and row.load_a
    ]
    for edge_id in work.network.outgoing.get(tag, ()):
        feeder = work.feeders.get(edge_id)
        if feeder is not None and feeder.load_a:
            shares.append((feeder.load_a, feed_place_ft(work, edge_id)))
    total = sum(amperes for amperes, _ in shares)
    if total <= 0:
        return 0.0
    return sum(amperes * min(place_ft, place) for amperes, place in shares) / total
