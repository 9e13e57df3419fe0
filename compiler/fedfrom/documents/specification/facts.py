"""The view of the design that the section templates see. Every clause is written from something here."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.documents.specification.gear_facts import SPECIFIED, GearFact, GearGroup, gear_fact, gear_group
from fedfrom.documents.specification.wiring_facts import GroundPoint, WiringFacts, ground_points, wiring_facts
from fedfrom.model.fact_words import fact_words
from fedfrom.model.items import Status
from fedfrom.results.types import (
    BillLine,
    CircuitResult,
    ProjectInfo,
    SourceResult,
    StateInfo,
    TransferResult,
    TransformerResult,
)
from fedfrom.rules.registry import Design


@dataclass(frozen=True, slots=True)
class MotorControl:
    """A drive or starter that a load states."""

    reference: str
    kind: str
    horsepower: str
    volts: str


@dataclass(frozen=True, slots=True)
class StudyBus:
    """A bus of the study list: its fault and rating as known, for the reader."""

    tag: str
    volts: str
    fault: str
    rating: str


@dataclass(frozen=True, slots=True)
class SpecFacts:
    """Everything that a section template may ask for."""

    project: ProjectInfo
    code_year: str
    wiring: WiringFacts
    ground: tuple[GroundPoint, ...]
    switchboards: GearGroup
    panelboards: GearGroup
    load_centers: GearGroup
    motor_centers: GearGroup
    meter_centers: GearGroup
    busways: GearGroup
    disconnects: GearGroup
    other_gear: GearGroup
    all_gear: GearGroup
    existing: tuple[GearFact, ...]
    transformers: tuple[TransformerResult, ...]
    generators: tuple[SourceResult, ...]
    utilities: tuple[SourceResult, ...]
    transfers: tuple[TransferResult, ...]
    ups: tuple[TransferResult, ...]
    drives: tuple[MotorControl, ...]
    starters: tuple[MotorControl, ...]
    surge: tuple[tuple[str, str, str], ...]
    meters: tuple[tuple[str, str], ...]
    added: tuple[CircuitResult, ...]
    states: tuple[StateInfo, ...]
    buses: tuple[StudyBus, ...]
    fuses: tuple[BillLine, ...]
    removed: tuple[BillLine, ...]
    relocated: tuple[BillLine, ...]
    growth_load_pct: float | None
    growth_poles_pct: float | None
    series_forbidden: bool
    assumptions: tuple[tuple[str, str, str], ...]
    stated: dict[str, dict[str, str]]


_NAMED = frozenset(
    {"switchboard", "panelboard", "load center", "motor control center", "meter center", "busway", "disconnect"}
)


def spec_facts(design: Design) -> SpecFacts:
    """Gather the view; nothing is computed."""
    results = design.results
    defaults = design.model.defaults
    classes = frozenset(gear.gear_class for gear in results.gear.values())
    kept = [gear for gear in results.gear.values() if gear.status is Status.EXISTING]
    transfers = [item for item in results.transfers.values() if item.status in SPECIFIED and not item.by]
    sources = list(results.sources.values())
    return SpecFacts(
        project=results.project,
        code_year=results.project.code.removeprefix("NEC ").strip(),
        wiring=wiring_facts(design),
        ground=ground_points(design),
        switchboards=gear_group(design, frozenset({"switchboard"})),
        panelboards=gear_group(design, frozenset({"panelboard"})),
        load_centers=gear_group(design, frozenset({"load center"})),
        motor_centers=gear_group(design, frozenset({"motor control center"})),
        meter_centers=gear_group(design, frozenset({"meter center"})),
        busways=gear_group(design, frozenset({"busway"})),
        disconnects=gear_group(design, frozenset({"disconnect"})),
        other_gear=gear_group(design, classes - _NAMED),
        all_gear=gear_group(design, classes),
        existing=tuple(gear_fact(design, gear) for gear in kept),
        transformers=tuple(item for item in results.transformers.values() if item.status in SPECIFIED and not item.by),
        generators=tuple(
            item for item in sources if item.kind == "generator" and item.status in SPECIFIED and not item.by
        ),
        utilities=tuple(item for item in sources if item.kind == "utility"),
        transfers=tuple(item for item in transfers if item.kind == "transfer switch"),
        ups=tuple(item for item in transfers if item.kind != "transfer switch"),
        drives=_controls(design, ("drive",)),
        starters=_controls(design, ("starter", "soft starter")),
        surge=_surge(design),
        meters=_meters(design),
        added=_added(design),
        states=results.states,
        buses=_buses(design),
        fuses=tuple(line for line in results.bill if line.section == "26 28 13" and line.status == "new"),
        removed=_with_status(results.bill, Status.DEMOLISH),
        relocated=_with_status(results.bill, Status.RELOCATED),
        growth_load_pct=defaults.growth_load_pct.value if defaults.growth_load_pct else None,
        growth_poles_pct=defaults.growth_poles_pct.value if defaults.growth_poles_pct else None,
        series_forbidden=defaults.series_rated_forbidden,
        assumptions=tuple((item.subject, item.what, item.reason) for item in results.assumptions),
        stated={
            tag: {fact.name: fact_words(fact) for fact in item.facts.facts} for tag, item in design.model.items.items()
        },
    )


def _with_status(bill: tuple[BillLine, ...], status: Status) -> tuple[BillLine, ...]:
    return tuple(line for line in bill if line.status == status.value and not line.part_of)


def _controls(design: Design, kinds: tuple[str, ...]) -> tuple[MotorControl, ...]:
    found = []
    for tag, gear in design.results.gear.items():
        item = design.model.items.get(tag)
        for load in item.loads if item else ():
            for kind in kinds:
                fact = load.facts.first(kind)
                if fact is None or fact.by or load.by or load.status is not Status.NEW:
                    continue
                horsepower = f"{load.amount.quantity:g} hp" if load.amount.form == "hp" and load.amount.quantity else ""
                reference = load.tag or f"{tag} {load.name}".strip()
                found.append(MotorControl(reference, kind, horsepower, gear.system.literal if gear.system else ""))
    return tuple(found)


def _surge(design: Design) -> tuple[tuple[str, str, str], ...]:
    """Gear with a surge device: tag, stated current, short-circuit rating that the device must have."""
    found = []
    for tag, gear in design.results.gear.items():
        item = design.model.items.get(tag)
        fact = item.facts.first("surge device") if item else None
        if fact is not None and not fact.by and gear.status in SPECIFIED and not gear.by:
            fault = f"{gear.fault_a / 1000:.1f} kA" if gear.fault_a is not None else ""
            found.append((tag, fact_words(fact), fault))
    return tuple(found)


def _meters(design: Design) -> tuple[tuple[str, str], ...]:
    """Metering of this project: where and whose ("utility", "customer")."""
    gear = [(tag, each.metering) for tag, each in design.results.gear.items() if each.metering not in {"", "none"}]
    return (*gear, *((feeder.id, feeder.meter) for feeder in design.results.feeders.values() if feeder.meter))


def _added(design: Design) -> tuple[CircuitResult, ...]:
    """New circuits in existing gear whose device is new."""
    found = []
    for tag, circuits in design.results.circuits.items():
        gear = design.results.gear.get(tag)
        if gear is None or gear.status is not Status.EXISTING:
            continue
        for circuit in circuits:
            device = circuit.device
            if circuit.status is Status.NEW and device is not None and device.status is Status.NEW:
                found.append(circuit)
    return tuple(found)


def _buses(design: Design) -> tuple[StudyBus, ...]:
    def kilo(amperes: float | None) -> str:
        return f"{amperes / 1000:.1f} kA" if amperes is not None else "not established"

    return tuple(
        StudyBus(tag, gear.system.literal if gear.system else "not known", kilo(gear.fault_a), kilo(gear.sccr_a))
        for tag, gear in design.results.gear.items()
    )
