"""What stands in a room: gear, transfer switches, transformers, generators, each with its size and working space."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from fedfrom.formulas.working_space import (
    bands,
    is_large_equipment,
    needs_panic_hardware,
    working_depth_ft,
    working_width_ft,
)
from fedfrom.graph.network import Node
from fedfrom.model.fact_reading import words
from fedfrom.model.items import Item, Status
from fedfrom.passes.line_up_cabinet import enclosure_size
from fedfrom.passes.line_up_dimensions import basis
from fedfrom.passes.room_layout import Block
from fedfrom.passes.work import Work
from fedfrom.results.assembly import RoomItem
from fedfrom.tables import Edition, lookup

# Not worked on while live: no working space is drawn for them (common practice, no source).
NOT_WORKED_ON = frozenset({"transformer", "generator", "battery", "wireway", "busway"})
# Where the wall opposite is not known, the deepest of the three conditions is taken.
WORST_CONDITION = 3


@dataclass(frozen=True, slots=True)
class Content:
    """A thing in a room. `stands`: it takes wall length. `block` what is placed, None where its size is not known or
    where it stands with another one; `joined` the tag of the line-up that it continues ("" for none)."""

    item: RoomItem
    stands: bool
    block: Block | None
    joined: str = ""


def rule(edition: Edition, key: str) -> float:
    """A figure of the gear rules (NEC 110.26 and its like)."""
    return lookup.rule_value(edition, "gear_rules_nec", key)


def contents(work: Work, room: str, condition: int | None) -> tuple[Content, ...]:
    """Everything whose place is this room, in source order; what is inside other equipment or gone is left out."""
    return tuple(_contents(work, room, condition))


def _contents(work: Work, room: str, condition: int | None) -> Iterator[Content]:
    here: set[str] = set()
    for tag, item in work.model.items.items():
        place = item.facts.first("place")
        if place is None or place.values.get("room") != room or item.enclosing or item.status is Status.DEMOLISH:
            continue
        here.add(tag)
        thing = _sized(work, item)
        worked = _with_working_space(work, thing, condition)
        mounting = " ".join(words(item.facts.first("mounting")))
        stands = mounting != "suspended" and item.kind != "busway"
        joined = _joined(work, tag, here)
        block = _block(work, item, worked, mounting == "flush") if stands else None
        yield Content(worked, stands, block, joined)


def _joined(work: Work, tag: str, here: set[str]) -> str:
    gear = work.gear.get(tag)
    other = gear.assembly.joined if gear is not None and gear.assembly is not None else ""
    return other if other in here else ""


def _sized(work: Work, item: Item) -> RoomItem:
    """The thing with its size, rating and voltage to ground."""
    node: Node | None = work.network.nodes.get(item.tag)
    system = (node.system or node.line_system) if node is not None else None
    gear = work.gear.get(item.tag)
    wall = _wall(item)
    plain = RoomItem(
        item.tag,
        item.title,
        gear.gear_class if gear is not None else item.kind,
        None,
        None,
        None,
        "",
        basis(work.edition, gear.gear_class if gear is not None else item.kind),
        volts_to_ground=system.to_ground_v if system is not None else None,
        wall=wall,
        pinned=bool(wall),
        status=item.status.value,
        span=item.tag_span,
    )
    if gear is not None and gear.assembly is not None:
        built = gear.assembly
        return replace(
            plain, width_in=built.width_in, depth_in=built.depth_in, height_in=built.height_in,
            mounting=built.mounting, rated_a=gear.bus_a,
        )  # fmt: skip
    transfer = work.transfers.get(item.tag)
    rated = transfer.rating_a if transfer is not None else None
    size = enclosure_size(work, item.tag, item.kind, rated)
    if size is None:
        return replace(plain, rated_a=rated)
    return replace(
        plain, width_in=size.width_in, depth_in=size.depth_in, height_in=size.height_in, mounting=size.mounting,
        rated_a=rated,
    )  # fmt: skip


def _wall(item: Item) -> str:
    """The wall that the place names ("north", "center"), "" for none."""
    fact = item.facts.first("place")
    option = fact.options.get("wall", {}) if fact is not None else {}
    return str(option.get("wall", "")).removesuffix(" wall")


def _with_working_space(work: Work, item: RoomItem, condition: int | None) -> RoomItem:
    if item.kind in NOT_WORKED_ON:
        return item
    width_ft = item.width_in / 12 if item.width_in is not None else None
    depth = depth_for(work.edition, item.volts_to_ground, condition or WORST_CONDITION)
    large = False
    if item.rated_a is not None and width_ft is not None:
        large = is_large_equipment(
            item.rated_a,
            width_ft,
            rule(work.edition, "two_entrances_rating"),
            rule(work.edition, "two_entrances_width"),
        )
    panic = item.rated_a is not None and needs_panic_hardware(item.rated_a, rule(work.edition, "panic_hardware_rating"))
    wide = working_width_ft(width_ft, rule(work.edition, "working_width")) if width_ft is not None else None
    return replace(
        item,
        condition=condition,
        work_depth_ft=depth,
        work_width_ft=wide,
        rear_ft=_rear(work, item, depth),
        two_entrances=large,
        panic_hardware=panic,
    )


def depth_for(edition: Edition, volts_to_ground: float | None, condition: int) -> float | None:
    """Depth of the working space in feet (NEC Table 110.26(A)(1)), None where the voltage is not known or too high."""
    if volts_to_ground is None:
        return None
    return working_depth_ft(bands(edition.rows("working_space_110_26")), volts_to_ground, condition)


def _rear(work: Work, item: RoomItem, depth: float | None) -> float:
    """Space behind gear with rear access: live parts are worked on there too, so it is as deep as the one in front."""
    gear = work.gear.get(item.tag)
    if gear is None or gear.assembly is None or "rear" not in gear.assembly.access:
        return 0.0
    return depth or rule(work.edition, "rear_space_nonelectrical") / 12


def _block(work: Work, item: Item, thing: RoomItem, flush: bool) -> Block | None:
    if thing.width_in is None or thing.depth_in is None:
        return None
    if thing.kind not in NOT_WORKED_ON and thing.work_depth_ft is None:
        return None
    facing = depth_for(work.edition, thing.volts_to_ground, WORST_CONDITION) or 0.0
    return Block(
        item.tag,
        thing.width_in / 12,
        0.0 if flush else thing.depth_in / 12,
        thing.work_depth_ft or 0.0,
        facing if thing.work_depth_ft else 0.0,
        thing.work_width_ft or 0.0,
        thing.rear_ft,
        thing.wall,
    )
