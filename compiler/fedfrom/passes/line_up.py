"""The line-up pass: what each piece of gear is built of, how large it is, and how it travels."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from fedfrom.graph.walk import outgoing_edges
from fedfrom.passes.gear_facts import GearFacts, gather
from fedfrom.passes.line_up_board import board_sections, joining_tie
from fedfrom.passes.line_up_cabinet import Cabinet, distribution_cabinet, one_enclosure, positions_cabinet
from fedfrom.passes.line_up_derivation import line_up_derivation
from fedfrom.passes.line_up_dimensions import basis, size_of
from fedfrom.passes.line_up_units import METERS, MOTOR_CONTROL, meter_sections, motor_control_sections
from fedfrom.passes.work import Pass, Work
from fedfrom.results.assembly import Assembly
from fedfrom.results.types import GearResult, SectionResult
from fedfrom.tables import Edition

CABINETS = ("panelboard", "load center")
BOARD = "switchboard"


def run(work: Work) -> Work:
    """Fill `sections` and `assembly` of every piece of gear."""
    gear = {tag: _built(work, each) for tag, each in work.gear.items()}
    derivations = dict(work.derivations)
    for each in gear.values():
        found = line_up_derivation(work.edition, each)
        if found is not None:
            derivations[found.subject] = found
    return replace(work, gear=gear, derivations=derivations)


def _built(work: Work, gear: GearResult) -> GearResult:
    facts = gather(work, work.model.items[gear.tag])
    if gear.gear_class == BOARD:
        return _line_up(work, facts, gear, board_sections(work, facts, gear))
    if gear.gear_class == MOTOR_CONTROL:
        return _line_up(work, facts, gear, motor_control_sections(work, gear))
    if gear.gear_class == METERS:
        return _line_up(work, facts, gear, meter_sections(work, gear))
    if gear.gear_class not in CABINETS:
        return _cabinet(work, facts, gear, one_enclosure(work, gear))
    cabinet = positions_cabinet if gear.positions_total else distribution_cabinet
    return _cabinet(work, facts, gear, cabinet(work, facts, gear))


def _line_up(work: Work, facts: GearFacts, gear: GearResult, sections: tuple[SectionResult, ...]) -> GearResult:
    """Sections side by side: width and weight add up, the deepest and the tallest decide the rest."""
    kind = gear.gear_class
    width = _total([section.width_in for section in sections])
    depth = _greatest([section.depth_in for section in sections])
    pad = size_of(work.edition, kind, "pad")
    mounting = "wall" if kind == METERS else "floor"
    tie, _ = joining_tie(work, gear.tag)
    assembly = replace(
        _common(work, facts, gear),
        width_in=width,
        depth_in=depth,
        height_in=_greatest([section.height_in for section in sections]),
        weight_lb=_total([section.weight_lb for section in sections]),
        mounting=mounting,
        shipping=_shipping(work.edition, kind, sections),
        joined="" if tie is None else next(end for end in tie.ends if end != gear.tag),
        notes=tuple(_notes(facts, sections)),
    )
    if pad is not None and width is not None and depth is not None:
        beyond, behind, high = (pad.width_in or 0.0, pad.depth_in or 0.0, pad.height_in or 0.0)
        assembly = replace(assembly, pad=(width + 2 * beyond, depth + 2 * behind, high))
    return replace(gear, sections=sections, assembly=assembly)


def _cabinet(work: Work, facts: GearFacts, gear: GearResult, cabinet: Cabinet) -> GearResult:
    assembly = replace(
        _common(work, facts, gear),
        width_in=cabinet.width_in,
        depth_in=cabinet.depth_in,
        height_in=cabinet.height_in,
        weight_lb=cabinet.weight_lb,
        mounting="floor" if facts.mounting == "floor" else cabinet.mounting,
        interiors=cabinet.interiors,
        notes=tuple(_notes(facts, cabinet.sections)),
    )
    return replace(gear, sections=cabinet.sections, assembly=assembly)


def _common(work: Work, facts: GearFacts, gear: GearResult) -> Assembly:
    """What every kind of gear has alike: access, entries, mains, what its lugs feed; sizes are still open."""
    item = work.model.items[gear.tag]
    edges = outgoing_edges(work.network, gear.tag)
    points = [(edge.feed.point, edge.target) for edge in edges if edge.feed is not None]
    entry = item.facts.word("entry")
    feed_entry = item.facts.word("feed entry") or entry
    return Assembly(
        width_in=None,
        depth_in=None,
        height_in=None,
        weight_lb=None,
        mounting="",
        basis=basis(work.edition, gear.gear_class),
        access=facts.access or "front",
        entry=entry.value if entry is not None else "",
        feed_entry=feed_entry.value if feed_entry is not None else "",
        mains=_mains_words(gear),
        feed_through=tuple(target for point, target in points if point == "feed-through lugs"),
        sub_feed=tuple(target for point, target in points if point == "sub-feed lugs"),
    )


def _mains_words(gear: GearResult) -> str:
    if gear.main is None:
        return "main lugs only" if gear.main_lugs else ""
    return "main breaker" if gear.main.kind == "breaker" else f"main {gear.main.kind}"


def _notes(facts: GearFacts, sections: Sequence[SectionResult]) -> Iterator[str]:
    """What a reader must know before relying on the division."""
    if facts.incomplete:
        yield "some devices are not known yet and take no room here"
    if facts.sections is not None and len(sections) > facts.sections:
        yield f"the devices need {len(sections)} sections; {facts.sections} are written"
    if not facts.access and len(sections) > 1:
        yield "access is not stated: front only is taken"
    if any(section.width_in is None for section in sections):
        yield "the dimension table has no size for some section"


def _shipping(edition: Edition, kind: str, sections: Sequence[SectionResult]) -> tuple[tuple[int, ...], ...]:
    """Section numbers that travel together, from the left, no piece longer than the table's shipping split."""
    longest = size_of(edition, kind, "shipping split")
    if longest is None or longest.width_in is None or len(sections) < 2:
        return ()
    pieces: list[list[int]] = []
    length = 0.0
    for section in sections:
        if section.width_in is None:
            return ()
        if not pieces or length + section.width_in > longest.width_in + 1e-6:
            pieces.append([])
            length = 0.0
        pieces[-1].append(section.number)
        length += section.width_in
    return tuple(tuple(piece) for piece in pieces)


def _total(values: Sequence[float | None]) -> float | None:
    known = [value for value in values if value is not None]
    return sum(known) if known and len(known) == len(values) else None


def _greatest(values: Sequence[float | None]) -> float | None:
    known = [value for value in values if value is not None]
    return max(known) if known and len(known) == len(values) else None


PASS = Pass("line-up", needs=frozenset({"gear", "circuits", "feeders", "ties"}), gives=frozenset({"gear"}), run=run)
