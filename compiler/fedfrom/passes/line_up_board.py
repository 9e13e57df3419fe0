"""Switchboards: the sections of a line-up from left to right, seen from the front, with their devices from the top.

Order: pull or utility metering, transition, main, distribution, tie. The second board of a joined line-up is the mirror
image of the first, so that the two mains stand at the ends and the tie in the middle (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from fedfrom.graph.walk import incoming_edges
from fedfrom.model.items import Status, Tie
from fedfrom.passes.gear_facts import GearFacts
from fedfrom.passes.line_up_devices import (
    GROUP,
    Wanted,
    board_height,
    frame_of,
    mounting_of,
    stacked,
    usable_height,
    used_height,
)
from fedfrom.passes.line_up_dimensions import height_of, size_of
from fedfrom.passes.section_choice import section_choice
from fedfrom.passes.work import Work
from fedfrom.results.assembly import MountedDevice
from fedfrom.results.types import CircuitResult, DeviceResult, GearResult, SectionResult
from fedfrom.tables import Edition, lookup

KIND = "switchboard"


@dataclass(frozen=True, slots=True)
class Draft:
    """A section before it has a number and a size: `rating_a` decides its size, `bus_a` is its own bus."""

    kind: str
    devices: tuple[MountedDevice, ...]
    rating_a: float | None
    bus_a: float | None = None


def board_sections(work: Work, facts: GearFacts, gear: GearResult) -> tuple[SectionResult, ...]:
    """The sections of a switchboard. Devices that are not known yet take no room: the caller says so."""
    wanted = tuple(_wanted(work, facts, gear))
    main = _main(work.edition, facts, gear)
    drafts = [*_incoming(work, facts, gear)]
    extras = tuple(_extras(work, facts))
    group = [each for each in wanted if each.mounting == GROUP]
    if _apart(work, facts, gear):
        single = [each for each in wanted if each.role != "space"]
        drafts += [draft for each in single for draft in _distribution(work.edition, gear, [each])]
        wanted = tuple(each for each in wanted if each.role == "space")
        group = [each for each in wanted if each.mounting == GROUP]
    if main is not None and main.mounting == GROUP:
        group = [main, *extras, *group]
    elif main is not None:
        drafts.append(_main_section(work.edition, gear, main, extras))
    else:
        group = [*extras, *group]
    drafts += _distribution(work.edition, gear, [each for each in wanted if each.mounting != GROUP])
    drafts += _distribution(work.edition, gear, group)
    while len(drafts) < (facts.sections or 0):
        drafts.append(Draft("distribution", (), _smallest_bus(work.edition)))
    tie, is_second = joining_tie(work, facts.tag)
    if tie is not None and not is_second:
        drafts.append(_tie_section(work, tie))
    if is_second:
        drafts.reverse()
    return tuple(_section(work.edition, number, draft, gear) for number, draft in enumerate(drafts, 1))


def joining_tie(work: Work, tag: str) -> tuple[Tie | None, bool]:
    """The tie without a length at a bus, and whether the bus is its second end."""
    tie = next((each for each in work.model.ties if tag in each.ends and each.length_ft is None), None)
    return tie, tie is not None and tie.ends[1] == tag


APART_SINCE = 2020


def _apart(work: Work, facts: GearFacts, gear: GearResult) -> bool:
    """Whether each device is a service disconnect with a vertical section of its own (NEC 230.71(B), since 2020)."""
    return gear.main is None and facts.service_disconnects > 1 and work.edition.year >= APART_SINCE


def _wanted(work: Work, facts: GearFacts, gear: GearResult) -> Iterator[Wanted]:
    """Every device and every place kept for one, in the order of the schedule."""
    reserves = {reserve.span: reserve.rating_a for reserve in work.model.items[facts.tag].reserves}
    for row in work.circuits.get(facts.tag, ()):
        if row.status is Status.DEMOLISH:
            continue
        device = _device(work, row)
        if device is not None:
            mounting = mounting_of(work.edition, device, facts.devices)
            size, protects, poles = frame_of(device), device.protects_a, device.poles
        elif row.kind == "space" and row.poles > 1:
            size = (reserves.get(row.span) if row.span is not None else None) or 0.0
            large = size > section_choice(work.edition, "group_mounted_max_a")
            mounting, protects, poles = ("individual" if large else GROUP), size, row.poles
        else:
            continue
        height, across = board_height(work.edition, mounting, size, poles)
        yield Wanted(row.key, row.kind, row.name, mounting, size, protects, height, across)


def _device(work: Work, row: CircuitResult) -> DeviceResult | None:
    feeder = work.feeders.get(row.feeder_id) if row.feeder_id else None
    return row.device or (feeder.device if feeder is not None else None)


def _main(edition: Edition, facts: GearFacts, gear: GearResult) -> Wanted | None:
    """The main: on the common interior up to a size, else individually mounted or drawn out."""
    main = gear.main
    if main is None:
        return None
    mounting = mounting_of(edition, main, facts.devices)
    if mounting == GROUP and frame_of(main) > section_choice(edition, "combined_main_max_a"):
        mounting = "individual"
    height, across = board_height(edition, mounting, frame_of(main), main.poles)
    return Wanted(f"{facts.tag}.main", "main", "main", mounting, frame_of(main), main.protects_a, height, across)


def _incoming(work: Work, facts: GearFacts, gear: GearResult) -> Iterator[Draft]:
    """What the supply needs before the main: metering, pull or transition section."""
    if facts.metering == "utility":
        compartment = MountedDevice("", "metering", "", 0.0, usable_height(work.edition), name="utility metering")
        yield Draft("utility metering", (compartment,), gear.bus_a)
        return
    edges = [edge for edge in incoming_edges(work.network, facts.tag) if edge.kind != "tie"]
    if any(work.network.nodes[edge.source].item.kind == "busway" for edge in edges):
        yield Draft("transition", (), gear.bus_a)
    most = section_choice(work.edition, "pull_section_over_sets")
    feeders = [work.feeders.get(edge.id) for edge in edges]
    sets = [feeder.conductors.sets for feeder in feeders if feeder is not None and feeder.conductors is not None]
    if max(sets, default=0) > most:
        yield Draft("pull", (), gear.bus_a)


def _extras(work: Work, facts: GearFacts) -> Iterator[Wanted]:
    """The customer's own meter and a surge device take height beside the main."""
    item = work.model.items[facts.tag]
    found = []
    if facts.metering == "customer":
        found.append(("metering", "customer metering"))
    if item.facts.first("surge device") is not None:
        found.append(("surge device", "surge device"))
    for role, part in found:
        height = height_of(work.edition, KIND, part)
        if height is not None:
            yield Wanted("", role, part, "", 0.0, 0.0, height)


def _main_section(edition: Edition, gear: GearResult, main: Wanted, extras: tuple[Wanted, ...]) -> Draft:
    """The section of an individually mounted main, with what stands beside it if the height allows."""
    usable = usable_height(edition)
    held = [main]
    for each in extras:
        if sum(one.height_in for one in held) + each.height_in <= usable + 1e-6:
            held.append(each)
    devices = stacked(held, usable)[0]
    beside = [each for each in extras if each not in held]  # behind the door above the device, outside its space
    devices += [MountedDevice("", each.role, "", usable, 0.0, name=each.name) for each in beside]
    return Draft("main", tuple(devices), max(main.size_a, main.protects_a))


def _distribution(edition: Edition, gear: GearResult, wanted: list[Wanted]) -> Iterator[Draft]:
    by_key = {each.key: each for each in wanted}
    for held in stacked(wanted, usable_height(edition)):
        total = sum(by_key[each.key].protects_a for each in held if each.key in by_key and each.role != "main")
        bus = _section_bus(edition, total, gear.bus_a)
        yield Draft("distribution", tuple(held), bus, bus)


def _section_bus(edition: Edition, total_a: float, through_a: float | None) -> float | None:
    """The smallest usual section bus for the sum of its devices, never more than the through bus needs."""
    if total_a == 0:
        return None
    need = min(total_a, through_a) if through_a is not None else total_a
    ratings = lookup.ampere_ratings(edition, "switchboard_section")
    return next((rating for rating in ratings if rating >= need), ratings[-1])


def _smallest_bus(edition: Edition) -> float:
    return lookup.ampere_ratings(edition, "switchboard_section")[0]


def _tie_section(work: Work, tie: Tie) -> Draft:
    found = work.ties.get(tie.tag)
    device = found.device if found is not None else None
    if device is None:
        return Draft("tie", (MountedDevice(tie.tag, "tie", "individual", 0.0, usable_height(work.edition)),), None)
    mounting = mounting_of(work.edition, device, "individual")
    height, _ = board_height(work.edition, mounting, frame_of(device), device.poles)
    name = f"tie to {tie.ends[1]}"
    placed = MountedDevice(tie.tag, "tie", mounting, 0.0, height, frame_a=frame_of(device), name=name)
    return Draft("tie", (placed,), frame_of(device))


def _section(edition: Edition, number: int, draft: Draft, gear: GearResult) -> SectionResult:
    rating = draft.rating_a
    size = size_of(edition, KIND, draft.kind, rating if rating is not None else _smallest_bus(edition))
    if rating is None and draft.kind != "distribution":
        size = None
    empty = SectionResult(number, draft.kind, _circuit_keys(draft), draft.bus_a, devices=draft.devices)
    filled = replace(
        empty,
        through_bus_a=gear.bus_a,
        usable_in=usable_height(edition),
        used_in=used_height(draft.devices),
    )
    if size is None:
        return filled
    return replace(
        filled, width_in=size.width_in, depth_in=size.depth_in, height_in=size.height_in, weight_lb=size.weight_lb
    )


def _circuit_keys(draft: Draft) -> tuple[str, ...]:
    """The keys of rows; a main on the common interior goes by the word "main"."""
    keys = []
    for each in draft.devices:
        if each.role == "main" and each.mounting == GROUP:
            keys.append("main")
        elif each.role not in ("main", "tie", "metering", "surge device"):
            keys.append(each.key)
    return tuple(keys)
