"""Every value of a design that could be pinned: chosen ones with their words, written ones with their place."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.editing import pin_words
from fedfrom.editing.pin_circuits import circuit_candidates
from fedfrom.editing.pin_parts import conductor_candidates, device_candidate, interrupting_candidate
from fedfrom.editing.pin_types import Candidate, Home, How, Reach
from fedfrom.model.items import Feed, Item, Model, Tie
from fedfrom.results.types import Results
from fedfrom.source import Span

_WITH_POSITIONS = ("panelboard", "load center")


def candidates(model: Model, results: Results) -> tuple[Candidate, ...]:
    """The candidates of every item and tie, in the order of the text."""
    found: list[Candidate] = []
    for item in model.items.values():
        found += _of_item(item, results)
        for feed in item.feeds:
            found += _of_feed(item, feed, results)
        found += circuit_candidates(model, item, results)
    for tie in model.ties:
        found += _of_tie(tie, results)
    return tuple(found)


# --- items -----------------------------------------------------------------------------------------------------------


def _of_item(item: Item, results: Results) -> Iterator[Candidate]:
    home = Home(item.tag, item.span, item.trail)
    gear = results.gear.get(item.tag)
    if gear is not None:
        yield _class(item, gear.gear_class, results, home)
    yield from _main(item, results, home)
    if gear is not None:
        yield _property(item, home, "bus", pin_words.amperes(gear.bus_a) if gear.bus_a else "")
        yield _property(item, home, "sccr", pin_words.kiloamperes(gear.sccr_a) if gear.sccr_a else "", Reach.NAME)
        yield _property(item, home, "enclosure", f"Type {gear.enclosure}" if gear.enclosure else "", Reach.NAME)
    transformer = results.transformers.get(item.tag)
    if transformer is not None and item.kind != "utility":
        words = f"{pin_words.plain(transformer.kva)} kVA" if transformer.kva else ""
        yield _property(item, home, "rating", words)
        percent = transformer.impedance_pct
        yield _property(item, home, "impedance", f"{pin_words.plain(percent)} %" if percent else "", Reach.NAME)
    transfer = results.transfers.get(item.tag)
    if transfer is not None and item.kind != "ups":
        yield _property(item, home, "rating", pin_words.amperes(transfer.rating_a) if transfer.rating_a else "")


def _class(item: Item, gear_class: str, results: Results, home: Home) -> Candidate:
    subject = f"{item.tag}.class"
    if item.kind != "gear":
        return Candidate(subject, item.kind, How.KIND, home, written=item.tag_span)
    if gear_class in ("", "gear"):
        return Candidate(subject, "", How.KIND, home, reason="no class was chosen")
    by_order = not any(row.positions for row in results.circuits.get(item.tag, ()))
    also = "numbering consecutive" if gear_class in _WITH_POSITIONS and by_order else ""
    return Candidate(subject, gear_class, How.KIND, home, also=also)


def _property(item: Item, home: Home, name: str, value: str, reach: Reach = Reach.ITEM) -> Candidate:
    fact = item.facts.first(name)
    subject = f"{item.tag}.{name}"
    if fact is not None:
        return Candidate(subject, name, How.PROPERTY, home, written=fact.span, reach=reach)
    reason = "" if value else "it is not known"
    words = f"{name} {value}" if value else ""
    return Candidate(subject, words, How.PROPERTY, home, reason=reason, reach=reach)


def _main(item: Item, results: Results, home: Home) -> Iterator[Candidate]:
    gear, source = results.gear.get(item.tag), results.sources.get(item.tag)
    result = gear.main if gear is not None else source.main if source is not None else None
    lugs = gear is not None and gear.main_lugs
    subject = f"{item.tag}.main"
    if item.main is not None and item.main.lugs:
        yield Candidate(subject, "main lugs", How.PROPERTY, home, written=item.main.span)
    elif item.main is not None and item.main.device is not None:
        device = item.main.device
        at_main = Home(item.tag, item.main.span, item.trail, device.span)
        yield device_candidate(subject, device, result, at_main)
        yield interrupting_candidate(subject, device, result, at_main)
    elif result is not None:
        words = pin_words.device(result)
        reason = "" if words else f"the language has no word for a {result.kind}"
        yield Candidate(subject, f"main {words}" if words else "", How.PROPERTY, home, reason=reason)
    elif lugs:
        yield Candidate(subject, "main lugs", How.PROPERTY, home)


# --- feeds and ties --------------------------------------------------------------------------------------------------


def _of_feed(item: Item, feed: Feed, results: Results) -> Iterator[Candidate]:
    result = results.feeders.get(feed.feeder_id)
    if result is None:
        return
    device = feed.device
    home = Home(item.tag, feed.span, feed.trail, device.span if device else None)
    subject = f"{feed.feeder_id}.feeder"
    if result.device is not None:
        yield device_candidate(f"{subject}.device", device, result.device, home)
        yield interrupting_candidate(subject, device, result.device, home)
    yield from conductor_candidates(subject, feed.conductors, result.conductors, home)


def _of_tie(tie: Tie, results: Results) -> Iterator[Candidate]:
    result = results.ties.get(tie.tag)
    if result is None:
        return
    span: Span | None = tie.device.span if tie.device else None
    home = Home(tie.tag, tie.span, (), span)
    yield device_candidate(f"{tie.tag}.device", tie.device, result.device, home)
    yield from conductor_candidates(tie.tag, tie.conductors, result.conductors, home)
