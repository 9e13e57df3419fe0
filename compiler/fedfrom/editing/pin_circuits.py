"""The branch circuits, spares, spaces and outgoing feeders of gear, as values that may be pinned."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from fedfrom.editing import pin_words
from fedfrom.editing.pin_parts import conductor_candidates, device_candidate
from fedfrom.editing.pin_types import Candidate, Home, How, Reach
from fedfrom.model.build_loads import DIVIDED_KINDS
from fedfrom.model.items import Feed, Item, Load, Model, Reserve
from fedfrom.results.types import CircuitResult, Results

_NUMBER = re.compile(r"(\d+) of \d+$")
_NO_LINE = "no line of its own says it: it comes from another one"
_UNLIKE = "the circuits of its line differ; write a line for each to pin them"


def circuit_candidates(model: Model, item: Item, results: Results) -> Iterator[Candidate]:
    """Position, device and conductors of each row of a piece of gear. `pin TAG` writes the positions only."""
    rows = results.circuits.get(item.tag, ())
    reserves = {reserve.span: reserve for reserve in item.reserves}
    feeds = {feed.feeder_id: (other, feed) for other in model.items.values() for feed in other.feeds}
    for row in rows:
        line = _line_of(row, item)
        same = _in_order([other for other in rows if _is_one_line(other, row)])
        if row.kind == "feeder" and row.feeder_id in feeds:
            yield from _position_of_feed(row, *feeds[row.feeder_id])
        elif line is not None:
            yield from _of_load(row, same, line, item, results)
        elif row.span in reserves and row.kind in ("spare", "space"):
            yield from _of_reserve(row, same, reserves[row.span], item)
        elif row.kind == "load":
            yield Candidate(f"{row.key}.position", "", How.POSITIONS, None, reason=_NO_LINE)


def _line_of(row: CircuitResult, item: Item) -> Load | None:
    """The load line of a row. Lines that a `for` made have one place in the text, but names of their own."""
    if row.kind != "load":
        return None
    at_place = [load for load in item.loads if load.span == row.span and load.tag == row.tag]
    return next((load for load in at_place if load.name in ("", row.name)), None)


def _is_one_line(one: CircuitResult, other: CircuitResult) -> bool:
    return (one.span, one.kind, one.tag, one.name) == (other.span, other.kind, other.tag, other.name)


def _in_order(rows: list[CircuitResult]) -> list[CircuitResult]:
    """The circuits of one line by their number in it."""
    return sorted(rows, key=lambda row: int(found[1]) if (found := _NUMBER.search(row.detail)) else row.order)


def _of_load(
    row: CircuitResult, same: Sequence[CircuitResult], load: Load, item: Item, results: Results
) -> Iterator[Candidate]:
    home = Home(item.tag, load.span, load.trail, load.device.span if load.device else None)
    if row.positions:
        gear = results.gear.get(item.tag)
        volts = gear.system.line_to_neutral_v if gear is not None and gear.system is not None else None
        yield _positions(row, same, load, home, volts)
    others = tuple(other.key for other in same if other is not row)
    alike = len({pin_words.device(other.device) for other in same}) == 1
    found = device_candidate(f"{row.key}.device", load.device, row.device, home, reach=Reach.CIRCUIT)
    yield _shared(found, alike, others, "device")
    sizes = {tuple(pin_words.conductors(other.conductors).values()) for other in same}
    for candidate in conductor_candidates(row.key, load.conductors, row.conductors, home, reach=Reach.CIRCUIT):
        yield _shared(candidate, len(sizes) == 1, others, candidate.subject.rpartition(".")[2])


def _positions(
    row: CircuitResult, same: Sequence[CircuitResult], load: Load, home: Home, to_neutral: float | None
) -> Candidate:
    subject = f"{row.key}.position"
    if load.positions:
        return Candidate(subject, "", How.POSITIONS, home, written=load.positions_span)
    numbers = [position for other in same for position in other.positions]
    words = ",".join(map(str, numbers))
    shares = tuple(f"{other.key}.position" for other in same if other is not row)
    is_divided = len(same) > 1 and load.count == 1 and load.kind in DIVIDED_KINDS
    if is_divided and load.volts is None and not load.multiwire:
        if to_neutral is None:
            return Candidate(subject, "", How.POSITIONS, home, reason="its volts are not known")
        volts = f"{pin_words.plain(to_neutral)} V"  # positions of several circuits are read only with the volts
        return Candidate(subject, words, How.POSITIONS, home, shares=shares, also=volts)
    return Candidate(subject, words, How.POSITIONS, home, shares=shares)


def _shared(candidate: Candidate, alike: bool, others: tuple[str, ...], name: str) -> Candidate:
    """A value that one line gives to several circuits: they must agree."""
    if candidate.written is None and candidate.words and not alike:
        return replace(candidate, words="", reason=_UNLIKE)
    return replace(candidate, shares=tuple(f"{key}.{name}" for key in others))


def _of_reserve(row: CircuitResult, same: Sequence[CircuitResult], reserve: Reserve, item: Item) -> Iterator[Candidate]:
    if not row.positions:
        return
    home = Home(item.tag, reserve.span, item.trail)
    subject = f"{row.key}.position"
    if reserve.positions:
        yield Candidate(subject, "", How.POSITIONS, home, written=reserve.span)
        return
    words = ",".join(str(position) for other in same for position in other.positions)
    shares = tuple(f"{other.key}.position" for other in same if other is not row)
    yield Candidate(subject, words, How.POSITIONS, home, shares=shares)


def _position_of_feed(row: CircuitResult, target: Item, feed: Feed) -> Iterator[Candidate]:
    """A feeder that leaves the gear says its positions in its own `fed from` line."""
    if not row.positions:
        return
    home = Home(target.tag, feed.span, feed.trail)
    subject = f"{row.key}.position"
    if feed.positions:
        yield Candidate(subject, "", How.OPTION, home, written=feed.positions_span or feed.span)
    else:
        yield Candidate(subject, f"position {','.join(map(str, row.positions))}", How.OPTION, home)
