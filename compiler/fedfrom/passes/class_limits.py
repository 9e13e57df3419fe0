"""Holds the facts of a piece of gear against the limits of a class, criterion by criterion."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from fedfrom.passes.gear_facts import Branch, GearFacts
from fedfrom.results.notation import amperes_text, kiloamperes_text
from fedfrom.source import Span
from fedfrom.tables import Edition

CLASSES = ("load center", "panelboard", "switchboard")

# Words of the language -> words of a sentence.
DEVICE_WORDS = {
    "group-mounted": "group-mounted",
    "individual": "individually mounted",
    "drawout": "drawn out",
    "fusible": "fused switches",
    "bolt-on": "bolted on",
    "plug-in": "plugged in",
}
MOUNTING_WORDS = {
    "surface": "on the wall",
    "wall": "on the wall",
    "flush": "in the wall",
    "floor": "on the floor",
    "suspended": "hung from the structure",
}


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit of a class: `value` as text, `severity` "error" (a published bound), "warning" (practice) or ""."""

    value: str
    severity: str
    status: str
    source: str

    @property
    def number(self) -> float:
        return float(self.value)

    @property
    def choices(self) -> tuple[str, ...]:
        return tuple(self.value.split(";"))


@dataclass(frozen=True, slots=True)
class Measure:
    """A fact held against a limit: whether it is kept, and the words for the sentence."""

    criterion: str
    kept: bool
    value: str
    limit: str
    what: str
    span: Span | None
    bound: Limit


@cache
def class_limits(edition: Edition, gear_class: str) -> dict[str, Limit]:
    """The limits of a class by attribute (practice table `gear_classes`)."""
    key = gear_class.replace(" ", "_")
    return {
        row["attribute"]: Limit(row["value"], row["severity"], row["status"], row["source"])
        for row in edition.rows("gear_classes")
        if row["class"] == key
    }


def measure(edition: Edition, facts: GearFacts, gear_class: str) -> tuple[Measure, ...]:
    """Every criterion that the facts speak to, in the order of the sentence table (the hardest fact first)."""
    limits = class_limits(edition, gear_class)
    found = (criterion(facts, limits) for criterion in CRITERIA.values())
    return tuple(entry for entry in found if entry is not None)


def _one_of(choices: tuple[str, ...]) -> str:
    """ "1", "1 or 3R", "1, 3R or 4"."""
    return f"{', '.join(choices[:-1])} or {choices[-1]}" if len(choices) > 1 else choices[0]


def _at_most(
    criterion: str, value: float | None, limit: Limit, what: str, span: Span | None, text: Callable[[float], str]
) -> Measure | None:
    if value is None:
        return None
    return Measure(criterion, value <= limit.number, text(value), text(limit.number), what, span, limit)


def _main_amperes(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    return _at_most("main_amperes", facts.main_a, limits["main_max_a"], facts.main_what, facts.main_span, amperes_text)


def _voltage(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    system = facts.system
    if system is None or system.is_dc:
        return None
    bound = limits["voltage_max_v"]
    # A load center is made for 240 V class systems: also the grounded ones with more to ground are out.
    kept = system.line_to_line_v <= bound.number
    return Measure("voltage", kept, system.literal, f"{bound.number:g} V", "", facts.tag_span, bound)


def _direct_current(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    system = facts.system
    if system is None or not system.is_dc:
        return None
    bound = limits["dc_voltage_max_v"]
    kept = system.line_to_line_v <= bound.number
    return Measure("direct_current", kept, system.literal, f"{bound.number:g} V DC", "", facts.tag_span, bound)


def _utility_metering(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    if facts.metering != "utility":
        return None
    bound = limits["utility_metering"]
    return Measure("utility_metering", bound.value == "1", "", "", "", facts.metering_span, bound)


def _several(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    if not facts.several_sources:
        return None
    bound = limits["tie_or_paralleling"]
    what = facts.several_sources[0].upper() + facts.several_sources[1:]
    return Measure("tie_or_paralleling", bound.value == "1", "", "", what, facts.several_span, bound)


def _device_mounting(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    bound = limits["device_mountings"]
    wanted, what, span = _wanted_mounting(facts)
    if not wanted:
        return None
    words = tuple(DEVICE_WORDS[choice] for choice in bound.choices)
    kept = wanted in bound.choices
    return Measure("device_mounting", kept, DEVICE_WORDS[wanted], _one_of(words), what, span, bound)


def _wanted_mounting(facts: GearFacts) -> tuple[str, str, Span | None]:
    if facts.devices:
        return facts.devices, "as written", facts.devices_span
    if "drawout" in facts.main_options:
        return "drawout", "the main", facts.main_span
    drawn = next((branch for branch in facts.branches if branch.drawout), None)
    return ("drawout", drawn.what, drawn.span) if drawn is not None else ("", "", None)


def _back_fed(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    if "back-fed" not in facts.main_options:
        return None
    return _at_most("back_fed", facts.main_a, limits["back_fed_max_a"], "", facts.main_span, amperes_text)


def _bolted_pressure(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    found = [branch for branch in facts.branches if branch.kind == "bolted-pressure switch"]
    amperes, what, span = (facts.main_a, "the main", facts.main_span)
    if facts.main_kind != "bolted-pressure switch":
        if not found:
            return None
        largest = max(found, key=lambda branch: branch.amperes)
        amperes, what, span = largest.amperes, largest.what, largest.span
    return _at_most("bolted_pressure", amperes, limits["bolted_pressure_max_a"], what, span, amperes_text)


def _fusible_main(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    if facts.main_kind != "fused switch":
        return None
    return _at_most("fusible_main", facts.main_a, limits["fusible_max_a"], "", facts.main_span, amperes_text)


def _fusible_branch(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    largest = _largest([branch for branch in facts.branches if branch.kind == "fused switch"])
    if largest is None:
        return None
    bound = limits["fusible_branch_max_a"]
    return _at_most("fusible_branch", largest.amperes, bound, largest.what, largest.span, amperes_text)


def _access(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    if not facts.access:
        return None
    bound = limits["access"]
    kept = facts.access in bound.choices
    return Measure("access", kept, facts.access, _one_of(bound.choices), "", facts.access_span, bound)


def _mounting(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    if not facts.mounting:
        return None
    bound = limits["mountings"]
    criterion = "floor" if bound.choices == ("floor",) else "mounting"
    kept = facts.mounting in bound.choices
    words = tuple(dict.fromkeys(MOUNTING_WORDS[choice] for choice in bound.choices))
    return Measure(criterion, kept, MOUNTING_WORDS[facts.mounting], _one_of(words), "", facts.mounting_span, bound)


def _enclosure(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    if not facts.enclosure:
        return None
    bound = limits["enclosure_types"]
    what = facts.place.text if facts.place is not None else "as written"
    kept = facts.enclosure in bound.choices
    return Measure("enclosure", kept, facts.enclosure, _one_of(bound.choices), what, facts.enclosure_span, bound)


def _branch_amperes(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    largest = _largest([branch for branch in facts.branches if branch.kind != "fused switch"])
    if largest is None:
        return None
    return _at_most("branch_amperes", largest.amperes, limits["branch_max_a"], largest.what, largest.span, amperes_text)


def _largest(branches: list[Branch]) -> Branch | None:
    return max(branches, key=lambda branch: branch.amperes, default=None)


def _large_devices(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    size = limits["large_device_a"].number
    large = [branch for branch in facts.branches if branch.amperes >= size]
    if not large:
        return None
    bound = limits["large_devices_max"]
    spans = [branch.span for branch in large[int(bound.number) :] if branch.span is not None]
    span = spans[0] if spans else facts.tag_span
    kept = len(large) <= bound.number
    return Measure("large_devices", kept, f"{len(large)}", bound.value, amperes_text(size), span, bound)


def _circuits(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    if not facts.poles:
        return None
    return _at_most("circuits", facts.poles, limits["circuits_max"], "", facts.tag_span, lambda value: f"{value:.0f}")


def _sections(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    if facts.sections is None or facts.sections < 2:
        return None
    bound = limits["sections_max"]
    return _at_most("sections", facts.sections, bound, "", facts.sections_span, lambda value: f"{value:.0f}")


def _through_bus(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    if facts.through_bus_a is None:
        return None
    bound = limits.get("through_bus_common_max_a", Limit("0", "warning", "common practice", ""))
    return _at_most("through_bus", facts.through_bus_a, bound, "", facts.through_bus_span, amperes_text)


def _service_disconnects(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    if facts.service_disconnects < 2:
        return None
    bound = limits["service_disconnects_max"]
    return _at_most(
        "service_disconnects", facts.service_disconnects, bound, "", facts.tag_span, lambda value: f"{value:.0f}"
    )


def _trip_functions(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    electronic = [branch for branch in facts.branches if branch.electronic]
    if not electronic and not facts.main_functions:
        return None
    bound = limits["electronic_trips"]
    what = f"the main, {facts.main_functions}" if facts.main_functions else electronic[0].what
    span = facts.main_span if facts.main_functions else electronic[0].span
    return Measure("trip_functions", bound.value == "1", "", "", what, span, bound)


def _fault(facts: GearFacts, limits: dict[str, Limit]) -> Measure | None:
    return _at_most("fault", facts.fault_a, limits["fault_max_a"], facts.fault_state, facts.tag_span, kiloamperes_text)


# In the order of hardness: what no change of detail can mend comes first.
CRITERIA: dict[str, Callable[[GearFacts, dict[str, Limit]], Measure | None]] = {
    "main_amperes": _main_amperes,
    "voltage": _voltage,
    "direct_current": _direct_current,
    "utility_metering": _utility_metering,
    "tie_or_paralleling": _several,
    "service_disconnects": _service_disconnects,
    "device_mounting": _device_mounting,
    "back_fed": _back_fed,
    "bolted_pressure": _bolted_pressure,
    "fusible_main": _fusible_main,
    "fusible_branch": _fusible_branch,
    "access": _access,
    "mounting": _mounting,
    "enclosure": _enclosure,
    "branch_amperes": _branch_amperes,
    "large_devices": _large_devices,
    "circuits": _circuits,
    "sections": _sections,
    "through_bus": _through_bus,
    "trip_functions": _trip_functions,
    "fault": _fault,
}
