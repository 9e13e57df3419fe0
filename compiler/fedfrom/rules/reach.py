"""Whether a check has anything to look at in a design: with nothing to look at it is *not applicable*, not passed."""

from __future__ import annotations

from collections.abc import Callable

from fedfrom.model.items import Status
from fedfrom.rules.registry import Design

Reach = Callable[[Design], bool]


def gear(design: Design) -> bool:
    """There is distribution gear."""
    return bool(design.results.gear)


def feeders(design: Design) -> bool:
    """There are feeders."""
    return bool(design.results.feeders)


def circuits(design: Design) -> bool:
    """There are branch circuits."""
    return any(row.kind == "load" for rows in design.results.circuits.values() for row in rows)


def conductors(design: Design) -> bool:
    """There are feeders or branch circuits, so conductors and devices."""
    return feeders(design) or circuits(design)


def motors(design: Design) -> bool:
    """There are motors."""
    return loads_of("motor")(design)


def services(design: Design) -> bool:
    """There is a utility service."""
    return kinds("utility")(design)


def transformers(design: Design) -> bool:
    """There are transformers of this project."""
    return any(each.by != "utility" for each in design.results.transformers.values())


def transfers(design: Design) -> bool:
    """There are transfer switches, power supplies or bypasses."""
    return bool(design.results.transfers)


def rooms(design: Design) -> bool:
    """Gear stands in a building: there is working space to look at."""
    return gear(design)


def dwellings(design: Design) -> bool:
    """Some gear serves a dwelling unit."""
    return has_fact("dwelling")(design)


def kinds(*names: str) -> Reach:
    """Items of one of these kinds."""
    return lambda design: any(item.kind in names for item in design.model.items.values())


def loads_of(*names: str) -> Reach:
    """Loads of one of these kinds."""
    return lambda design: any(load.kind in names for item in design.model.items.values() for load in item.loads)


def has_fact(*names: str) -> Reach:
    """Items with one of these properties."""
    return lambda design: any(item.facts.first(name) for item in design.model.items.values() for name in names)


def load_fact(*names: str) -> Reach:
    """Loads with one of these facts."""
    return lambda design: any(
        load.facts.first(name) for item in design.model.items.values() for load in item.loads for name in names
    )


def system_classes(*names: str) -> Reach:
    """Transfer switches whose system is of one of these classes."""
    return lambda design: any(switch.system_class in names for switch in design.results.transfers.values())


def several_systems(design: Design) -> bool:
    """More than one voltage system is distributed."""
    return len({each.system.literal for each in design.results.gear.values() if each.system is not None}) > 1


def direct_current(design: Design) -> bool:
    """Something is distributed as direct current."""
    return any(each.system is not None and each.system.is_dc for each in design.results.gear.values())


def high_leg(design: Design) -> bool:
    """Some gear has a high leg."""
    return any(
        each.system is not None and each.system.kind == "high-leg delta" for each in design.results.gear.values()
    )


def ungrounded(design: Design) -> bool:
    """Some gear is on a system without a grounded conductor."""
    kinds_ = ("ungrounded", "isolated", "resistance")
    return any(each.system is not None and each.system.grounding in kinds_ for each in design.results.gear.values())


def existing(design: Design) -> bool:
    """Something stands already."""
    return any(item.status is Status.EXISTING for item in design.model.items.values())


def expectations(design: Design) -> bool:
    """The text expects something."""
    return bool(design.model.expectations)


def taps(design: Design) -> bool:
    """There are taps."""
    return any(feeder.kind == "tap" for feeder in design.results.feeders.values())
