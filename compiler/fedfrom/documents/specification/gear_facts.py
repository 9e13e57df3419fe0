"""What the specification says of gear: groups by class, with ratings, devices and the facts that make clauses."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from fedfrom.documents.words import enclosure_text
from fedfrom.model.fact_words import fact_words
from fedfrom.model.items import Status
from fedfrom.results.types import CircuitResult, DeviceResult, GearResult
from fedfrom.rules.registry import Design

SPECIFIED = frozenset({Status.NEW, Status.RELOCATED})


@dataclass(frozen=True, slots=True)
class DeviceFact:
    """A device with its reference ("MSB.main", "MSB.2")."""

    reference: str
    device: DeviceResult


@dataclass(frozen=True, slots=True)
class GearFact:
    """One piece of gear, with its devices and the plain facts that were stated of it."""

    gear: GearResult
    devices: tuple[DeviceFact, ...]
    circuits: tuple[CircuitResult, ...]
    stated: dict[str, str]
    words: frozenset[str]

    @property
    def tag(self) -> str:
        return self.gear.tag

    @property
    def volts(self) -> str:
        return self.gear.system.literal if self.gear.system else "voltage not known"

    @property
    def is_floor_standing(self) -> bool:
        return self.gear.gear_class in {"switchboard", "motor control center"}

    @property
    def compartments(self) -> tuple[str, ...]:
        """References of the devices that are individually mounted or drawn out."""
        return tuple(
            device.key
            for section in self.gear.sections
            for device in section.devices
            if device.key and device.mounting in ("individual", "drawout")
        )

    @property
    def spares(self) -> int:
        return sum(1 for circuit in self.circuits if circuit.kind == "spare")

    @property
    def spaces(self) -> int:
        return sum(1 for circuit in self.circuits if circuit.kind == "space")


@dataclass(frozen=True, slots=True)
class GearGroup:
    """Gear of one section."""

    items: tuple[GearFact, ...]

    def __bool__(self) -> bool:
        return bool(self.items)

    @property
    def tags(self) -> tuple[str, ...]:
        return tuple(item.tag for item in self.items)

    def those(self, test: Callable[[GearFact], bool]) -> tuple[GearFact, ...]:
        return tuple(item for item in self.items if test(item))

    @property
    def devices(self) -> tuple[DeviceFact, ...]:
        return tuple(device for item in self.items for device in item.devices)

    @property
    def highest_rating(self) -> GearFact | None:
        """The item with the greatest short-circuit rating, None where none is established."""
        known = [item for item in self.items if item.gear.sccr_a is not None]
        return max(known, key=lambda item: item.gear.sccr_a or 0.0) if known else None

    @property
    def without_rating(self) -> tuple[str, ...]:
        return tuple(item.tag for item in self.items if item.gear.sccr_a is None)

    @property
    def series_rated(self) -> tuple[GearFact, ...]:
        return self.those(lambda item: item.gear.sccr_basis.startswith("series"))

    @property
    def service(self) -> tuple[str, ...]:
        return tuple(item.tag for item in self.items if item.gear.service_equipment)

    @property
    def enclosures(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Enclosure types with the tags that have them, in order of first use."""
        return by_value(
            (enclosure_text(item.gear.enclosure) or "Type NOT STATED, to suit the place", item.tag)
            for item in self.items
        )

    @property
    def materials(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(item.gear.bus_material for item in self.items if item.gear.bus_material))

    @property
    def systems(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(item.volts for item in self.items))

    def stated(self, name: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Values of a stated fact with the tags that have it."""
        return by_value((item.stated[name], item.tag) for item in self.items if name in item.stated)

    def in_place(self, *words: str) -> tuple[str, ...]:
        """Tags whose place has one of these words (outdoor, dusty, wet …)."""
        return tuple(item.tag for item in self.items if item.words & set(words))

    def kinds(self, *names: str) -> tuple[str, ...]:
        """References of the devices of these kinds."""
        return tuple(each.reference for each in self.devices if each.device.kind in names)

    def with_function(self, letter: str) -> tuple[str, ...]:
        return tuple(each.reference for each in self.devices if letter in each.device.functions)

    def with_option(self, name: str) -> tuple[str, ...]:
        return tuple(each.reference for each in self.devices if name in each.device.options)

    @property
    def arc_reduction(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        return by_value(
            (each.device.arc_reduction, each.reference) for each in self.devices if each.device.arc_reduction
        )

    @property
    def fuse_classes(self) -> tuple[str, ...]:
        fused = [each.device for each in self.devices if each.device.fuse_a is not None]
        return tuple(dict.fromkeys(device.fuse_class or "not stated" for device in fused))

    @property
    def spares(self) -> int:
        return sum(item.spares for item in self.items)

    @property
    def spaces(self) -> int:
        return sum(item.spaces for item in self.items)


def by_value(pairs: Iterable[tuple[str, str]]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Tags brought together under their value, in order of first use."""
    found: dict[str, list[str]] = {}
    for value, tag in pairs:
        found.setdefault(value, []).append(tag)
    return tuple((value, tuple(tags)) for value, tags in found.items())


def gear_group(design: Design, classes: frozenset[str]) -> GearGroup:
    """The new and relocated gear of these classes that this project provides."""
    found = [
        gear_fact(design, gear)
        for gear in design.results.gear.values()
        if gear.gear_class in classes and gear.status in SPECIFIED and not gear.by
    ]
    return GearGroup(tuple(found))


def gear_fact(design: Design, gear: GearResult) -> GearFact:
    """One piece of gear for the templates."""
    circuits = tuple(each for each in design.results.circuits.get(gear.tag, ()) if each.status is not Status.DEMOLISH)
    devices = [DeviceFact(f"{gear.tag}.main", gear.main)] if gear.main else []
    for circuit in circuits:
        feeder = design.results.feeders.get(circuit.feeder_id) if circuit.feeder_id else None
        device = circuit.device or (feeder.device if feeder else None)
        if device is not None and circuit.kind != "space":
            devices.append(DeviceFact(circuit.key, device))
    item = design.model.items.get(gear.tag)
    facts = item.facts.facts if item else ()
    stated = {fact.name: fact_words(fact) for fact in facts}
    words = frozenset(stated.get("place", "").lower().replace(",", " ").split())
    return GearFact(gear, tuple(devices), circuits, stated, words)
