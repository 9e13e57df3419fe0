"""Panelboards and load centers: positions, interiors and boxes; and everything else that is one enclosure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fedfrom.model.fact_reading import amount
from fedfrom.model.items import Status
from fedfrom.passes.gear_facts import GearFacts
from fedfrom.passes.line_up_devices import Wanted, frame_of, stacked, used_height
from fedfrom.passes.line_up_dimensions import Size, height_of, size_of, unit_of
from fedfrom.passes.work import Work
from fedfrom.quantity import Dimension
from fedfrom.results.types import CircuitResult, GearResult, SectionResult

PANEL = "panelboard"
# Names of the part in the table that is the whole thing, and what its rows are counted in.
WHOLE = ("enclosure", "cabinet", "set")
UNITS = {"A": (Dimension.CURRENT, 1.0), "kVA": (Dimension.APPARENT, 1000.0), "kW": (Dimension.REAL, 1000.0)}


@dataclass(frozen=True, slots=True)
class Cabinet:
    """A cabinet or several side by side: sections where there are more than one, and the positions of each interior."""

    sections: tuple[SectionResult, ...]
    interiors: tuple[int, ...]
    width_in: float | None
    depth_in: float | None
    height_in: float | None
    weight_lb: float | None
    mounting: str


def positions_cabinet(work: Work, facts: GearFacts, gear: GearResult) -> Cabinet:
    """A panelboard or load center with numbered positions; two interiors where one box would be too tall."""
    kind = gear.gear_class
    size = size_of(work.edition, kind, "box with positions", gear.bus_a) if gear.bus_a is not None else None
    tallest = height_of(work.edition, PANEL, "tallest box")
    count = max(facts.sections or 1, _boxes_needed(size, gear.positions_total, tallest))
    interiors = _divided(gear.positions_total, count)
    height = max((_box_height(size, positions) or 0.0 for positions in interiors), default=0.0) or None
    sections: tuple[SectionResult, ...] = ()
    if count > 1:
        sections = _interiors(work, gear, interiors, size)
    width = size.width_in * count if size is not None and size.width_in is not None else None
    weight = size.weight_lb * count if size is not None and size.weight_lb is not None else None
    depth = size.depth_in if size is not None else None
    return Cabinet(sections, interiors, width, depth, height, weight, size.mounting if size else "wall")


def _boxes_needed(size: Size | None, positions: int, tallest: float | None) -> int:
    if size is None or tallest is None:
        return 1
    count = 1
    while (_box_height(size, -(-positions // count)) or 0.0) > tallest:
        count += 1
    return count


def _box_height(size: Size | None, positions: int) -> float | None:
    """Base height and one step for each row of two positions, inches."""
    if size is None or size.height_in is None:
        return None
    return size.height_in + size.per_row_in * -(-positions // 2)


def _divided(positions: int, count: int) -> tuple[int, ...]:
    """Positions of each interior, whole rows, the first ones the fuller."""
    rows = -(-positions // 2)
    each, over = divmod(rows, count)
    return tuple(2 * (each + (1 if index < over else 0)) for index in range(count))


def _interiors(work: Work, gear: GearResult, interiors: Sequence[int], size: Size | None) -> tuple[SectionResult, ...]:
    found = []
    first = 1
    for number, positions in enumerate(interiors, 1):
        last = first + positions - 1
        rows = work.circuits.get(gear.tag, ())
        keys = tuple(row.key for row in rows if row.positions and first <= row.positions[0] <= last)
        section = SectionResult(
            number, "panel interior", keys, gear.bus_a, f"positions {first} to {last}", through_bus_a=None
        )
        if size is not None:
            height = _box_height(size, positions)
            section = replace(section, width_in=size.width_in, depth_in=size.depth_in, height_in=height,
                              weight_lb=size.weight_lb)  # fmt: skip
        found.append(section)
        first = last + 1
    return tuple(found)


def distribution_cabinet(work: Work, facts: GearFacts, gear: GearResult) -> Cabinet:
    """A panelboard without numbered positions: group-mounted devices over each other, two narrow ones side by side."""
    size = size_of(work.edition, PANEL, "distribution box", gear.bus_a) if gear.bus_a is not None else None
    tallest = height_of(work.edition, PANEL, "tallest box")
    if size is None or size.height_in is None or tallest is None:
        return Cabinet((), (), None, None, None, None, "wall")
    usable = max(tallest - size.height_in, 0.0)
    held = stacked(_distribution_devices(work, gear, usable), usable) or [[]]
    height = size.height_in + max(used_height(each) for each in held)
    sections: tuple[SectionResult, ...] = ()
    count = max(len(held), facts.sections or 1)
    if count > 1:
        held += [[]] * (count - len(held))
        sections = tuple(
            SectionResult(
                number, "panel interior", tuple(one.key for one in each if one.role != "main"), gear.bus_a,
                devices=tuple(each), usable_in=usable, used_in=used_height(each), width_in=size.width_in,
                depth_in=size.depth_in, height_in=height, weight_lb=size.weight_lb,
            )
            for number, each in enumerate(held, 1)
        )  # fmt: skip
    width = size.width_in * count if size.width_in is not None else None
    weight = size.weight_lb * count if size.weight_lb is not None else None
    return Cabinet(sections, (), width, size.depth_in, height, weight, size.mounting)


def _distribution_devices(work: Work, gear: GearResult, usable: float) -> list[Wanted]:
    found = []
    if gear.main is not None:
        found.append(_panel_device(work, f"{gear.tag}.main", "main", "main", frame_of(gear.main), usable))
    for row in work.circuits.get(gear.tag, ()):
        size = _row_size(work, row)
        if size is not None and row.status is not Status.DEMOLISH:
            found.append(_panel_device(work, row.key, row.kind, row.name, size, usable))
    return found


def _row_size(work: Work, row: CircuitResult) -> float | None:
    feeder = work.feeders.get(row.feeder_id) if row.feeder_id else None
    device = row.device or (feeder.device if feeder is not None else None)
    if device is not None:
        return frame_of(device)
    return 0.0 if row.kind == "space" and row.poles > 1 else None


def _panel_device(work: Work, key: str, role: str, name: str, size_a: float, usable: float) -> Wanted:
    found = size_of(work.edition, PANEL, "device", size_a)
    height = found.height_in if found is not None and found.height_in is not None else usable
    return Wanted(key, role, name, "group", size_a, size_a, height, found.across if found is not None else 1)


def enclosure_size(work: Work, tag: str, kind: str, rated_a: float | None) -> Size | None:
    """The size of anything that is one enclosure or set, by its amperes, kVA or kW; None where no row serves it."""
    part = next((name for name in WHOLE if unit_of(work.edition, kind, name)), "")
    if not part:
        return None
    dimension, one = UNITS[unit_of(work.edition, kind, part)]
    transformer = work.transformers.get(tag)
    item = work.model.items.get(tag)
    written = amount(item.facts.first("rating"), dimension) if item is not None else None
    rating = written / one if written is not None else None
    if dimension is Dimension.CURRENT and rated_a is not None:
        rating = rated_a
    if dimension is Dimension.APPARENT and rating is None and transformer is not None:
        rating = transformer.kva
    return size_of(work.edition, kind, part, rating) if rating is not None else None


def one_enclosure(work: Work, gear: GearResult) -> Cabinet:
    """Disconnects, controllers, isolated power panels and the like."""
    size = enclosure_size(work, gear.tag, gear.gear_class, gear.bus_a)
    if size is None:
        return Cabinet((), (), None, None, None, None, "")
    return Cabinet((), (), size.width_in, size.depth_in, size.height_in, size.weight_lb, size.mounting)
