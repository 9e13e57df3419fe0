"""The optional methods of Part IV of Article 220, where a piece of gear says `method optional …`."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

from fedfrom.formulas.demand_dwelling import Climate, ClimateFactors, largest_climate_va, optional_dwelling_va
from fedfrom.formulas.demand_steps import factor_by_count, restaurant_demand, school_demand, steps_text
from fedfrom.model.items import Status
from fedfrom.passes.connected import DWELLING_GROUP, DWELLING_LIGHTING
from fedfrom.passes.demand_tables import (
    climate_factors,
    multifamily_rows,
    optional_dwelling_steps,
    restaurant_rows,
    rule_220,
    school_steps,
)
from fedfrom.passes.load_demand import Demand, NodeContext, full, share, standard_demand
from fedfrom.passes.load_farm import building_demand, farm_demand
from fedfrom.passes.load_gather import Counted
from fedfrom.quantity import VoltageSystem

GENERAL_KINDS = frozenset({*DWELLING_GROUP, "range", "dryer", "water-heater", "appliance", "motor", "equipment"})
COOLING_KINDS = frozenset({"cooling"})
HEAT_PUMP_KINDS = frozenset({"hvac"})
CLIMATE_KINDS = frozenset({"cooling", "hvac", "heating"})


@dataclass
class OptionalResult:
    """The lines of an optional method, or none with the reason why it does not apply here (`needs` a missing fact)."""

    demands: list[Demand] = field(default_factory=list)
    refused: str = ""
    needs: str = ""


def optional_demand(
    method: str, loads: Sequence[Counted], context: NodeContext, system: VoltageSystem | None
) -> OptionalResult:
    """The demand at a node by an optional method; conditions of the method are checked."""
    run = _METHODS.get(method)
    return run(loads, context, system) if run else OptionalResult(refused=f"there is no method {method!r}")


# --- one dwelling unit ---------------------------------------------------------------------------------------------


def _units(loads: Sequence[Counted]) -> dict[str, list[Counted]]:
    units: dict[str, list[Counted]] = {}
    for entry in loads:
        if entry.load.dwelling:
            units.setdefault(entry.load.dwelling, []).append(entry)
    return units


def _one_dwelling(loads: Sequence[Counted], context: NodeContext, system: VoltageSystem | None) -> OptionalResult:
    """220.82: general loads 100 % to 10 kVA and 40 % above, plus the largest of the heating and cooling selections."""
    refused = _dwelling_refused(loads, system)
    if refused:
        return OptionalResult(refused=refused)
    general = [entry for entry in loads if entry.load.kind in GENERAL_KINDS]
    steps = optional_dwelling_steps(context.edition, "220.82(B)", "general")
    demands = _general_line(general, steps, "220.82(B)")
    demands += _climate_lines([entry for entry in loads if entry.load.kind in CLIMATE_KINDS], context)
    rest = [entry for entry in loads if entry.load.kind not in GENERAL_KINDS | CLIMATE_KINDS]
    return OptionalResult([*demands, *standard_demand(rest, context)])


def _dwelling_refused(loads: Sequence[Counted], system: VoltageSystem | None) -> str:
    units = _units(loads)
    if len(units) != 1:
        return f"{len(units)} dwelling units are fed here; the method is for one"
    if system is None or system.kind not in ("single-phase", "single-phase-of-wye"):
        return "the dwelling unit is not fed by 120/240 V or 120/208 V, 3-wire"
    return ""


def _general_line(
    general: Sequence[Counted], steps: Sequence[tuple[float, float | None, float]], clause: str
) -> list[Demand]:
    if not general:
        return []
    total = full(general)
    demand = optional_dwelling_va(total, 0.0, steps)
    factor = f"general loads: {steps_text(steps)}"
    return [Demand("general loads", share(general, demand, total), factor, clause)]


def _climate_lines(loads: Sequence[Counted], context: NodeContext) -> list[Demand]:
    """The largest selection of 220.82(C); what it does not take is left out.

    Heating that says `continuous` is thermal storage or other heating that runs at its full nameplate: 100 % of it,
    item (6), where that is more than the largest of the others.
    """
    if not loads:
        return []
    factors = climate_factors(context.edition)
    storage = [entry for entry in loads if entry.load.kind == "heating" and entry.load.continuous_written]
    others = [entry for entry in loads if entry not in storage]
    line = _selection(others, factors)
    storage_va = sum(entry.va for entry in storage)
    if storage and (line is None or storage_va >= line.demand_va):
        parts = tuple((entry, entry.va) for entry in storage)
        words = "the largest of 220.82(C): heating of continuous load at 100 %"
        return [Demand("heating and cooling", parts, words, "220.82(C)", tuple(others))]
    assert line is not None
    return [replace(line, left_out=(*line.left_out, *storage))]


def _selection(loads: Sequence[Counted], factors: ClimateFactors) -> Demand | None:
    if not loads:
        return None
    heating = [entry for entry in loads if entry.load.kind == "heating"]
    pumps = [entry for entry in loads if entry.load.kind in HEAT_PUMP_KINDS]
    cooling = [entry for entry in loads if entry.load.kind in COOLING_KINDS]
    climate = Climate(
        cooling_va=sum(entry.va for entry in cooling),
        heat_pump_va=sum(entry.va for entry in pumps),
        heating_va=sum(entry.va for entry in heating),
        heating_units=sum(entry.load.count for entry in heating),
    )
    chosen_va, words = largest_climate_va(climate, factors)
    taken = _taken(words, cooling, pumps, heating)
    parts = _climate_parts(words, chosen_va, pumps, heating, cooling)
    left_out = tuple(entry for entry in loads if entry not in taken)
    return Demand("heating and cooling", parts, f"the largest of 220.82(C): {words}", "220.82(C)", left_out)


def _taken(
    words: str, cooling: Sequence[Counted], pumps: Sequence[Counted], heating: Sequence[Counted]
) -> list[Counted]:
    if "supplemental" in words:
        return [*pumps, *heating]
    if words.startswith("heat pump"):
        return list(pumps)
    return list(cooling) if words.startswith("cooling") else list(heating)


def _climate_parts(
    words: str, chosen_va: float, pumps: Sequence[Counted], heating: Sequence[Counted], cooling: Sequence[Counted]
) -> tuple[tuple[Counted, float], ...]:
    if "supplemental" in words:
        pump_va = sum(entry.va for entry in pumps)
        heat_va = sum(entry.va for entry in heating)
        ratio = (chosen_va - pump_va) / heat_va if heat_va else 0.0
        return (*((entry, entry.va) for entry in pumps), *((entry, entry.va * ratio) for entry in heating))
    taken = _taken(words, cooling, pumps, heating)
    total = sum(entry.va for entry in taken)
    return tuple((entry, entry.va * chosen_va / total) for entry in taken) if total else ()


def _existing_dwelling(loads: Sequence[Counted], context: NodeContext, system: VoltageSystem | None) -> OptionalResult:
    """220.83: (A) nothing added to heating or cooling: all in steps; (B) added: that in full, the rest in steps."""
    refused = _dwelling_refused(loads, system)
    if refused:
        return OptionalResult(refused=refused)
    climate = [entry for entry in loads if entry.load.kind in CLIMATE_KINDS]
    general = [entry for entry in loads if entry.load.kind in GENERAL_KINDS]
    rest = [entry for entry in loads if entry.load.kind not in GENERAL_KINDS | CLIMATE_KINDS]
    added = any(entry.load.status is not Status.EXISTING for entry in climate)
    if not added:
        steps = optional_dwelling_steps(context.edition, "220.83(A)", "existing_no_added")
        return OptionalResult(
            [*_general_line([*general, *climate], steps, "220.83(A)"), *standard_demand(rest, context)]
        )
    steps = optional_dwelling_steps(context.edition, "220.83(B)", "existing_added_other")
    heat = [entry for entry in climate if entry.load.kind == "heating"]
    cool = [entry for entry in climate if entry.load.kind != "heating"]
    larger = heat if sum(e.va for e in heat) > sum(e.va for e in cool) else cool
    left_out = tuple(entry for entry in climate if entry not in larger)
    words = "the larger of heating and cooling at 100 %"
    line = Demand("heating and cooling", tuple((e, e.va) for e in larger), words, "220.83(B)", left_out)
    return OptionalResult([*_general_line(general, steps, "220.83(B)"), line, *standard_demand(rest, context)])


# --- many dwelling units -------------------------------------------------------------------------------------------


def _multifamily(loads: Sequence[Counted], context: NodeContext, system: VoltageSystem | None) -> OptionalResult:
    """220.84: the factor for the number of units on all they have connected; house loads by the standard method."""
    units = _units(loads)
    least = int(rule_220(context.edition, "multifamily_least_units"))
    house = standard_demand([entry for entry in loads if not entry.load.dwelling], context)
    if len(units) == 2:
        return _two_dwellings(units, context, house)
    if len(units) < least:
        return OptionalResult(refused=f"{len(units)} dwelling units are fed here; the method needs {least}")
    without = [tag for tag, own in units.items() if not any(entry.load.kind in CLIMATE_KINDS for entry in own)]
    if without:
        return OptionalResult(refused=f"{', '.join(without)} has neither electric heating nor air conditioning")
    counted, left_out = _larger_climate(units)
    percent = factor_by_count(len(units), multifamily_rows(context.edition))
    parts = tuple((entry, entry.va * percent / 100) for entry in counted)
    factor = f"{len(units)} dwelling units at {percent:g} %"
    no_cooking = [tag for tag, own in units.items() if not any(entry.load.kind == "range" for entry in own)]
    if no_cooking:
        return _without_cooking(units, context, counted, left_out, percent, len(no_cooking), house)
    line = Demand("dwelling units", parts, factor, "220.84", tuple(left_out), units=len(units))
    return OptionalResult([line, *house])


def _two_dwellings(units: dict[str, list[Counted]], context: NodeContext, house: list[Demand]) -> OptionalResult:
    """Two units (220.85): the load of three like the larger one by 220.84, where that is less than the standard one."""
    as_units = int(rule_220(context.edition, "two_dwellings_as_units"))
    larger = max(units.values(), key=full)
    percent = factor_by_count(as_units, multifamily_rows(context.edition))
    counted, left_out = _larger_climate(units)
    one, _ = _larger_climate({"larger": larger})
    demand = as_units * full(one) * percent / 100
    standard = standard_demand([entry for own in units.values() for entry in own], context)
    if sum(line.demand_va for line in standard) <= demand:
        return OptionalResult([*standard, *house])
    words = f"2 dwelling units as {as_units} like the larger, at {percent:g} %"
    line = Demand("dwelling units", share(counted, demand, full(counted)), words, "220.85", tuple(left_out), units=2)
    return OptionalResult([line, *house])


def _larger_climate(units: dict[str, list[Counted]]) -> tuple[list[Counted], list[Counted]]:
    """Of each unit the larger of air conditioning and space heating (220.84(C)(5)); a heat pump goes with its heat."""
    counted: list[Counted] = []
    left_out: list[Counted] = []
    for own in units.values():
        cooling = [entry for entry in own if entry.load.kind == "cooling"]
        heating = [entry for entry in own if entry.load.kind in ("heating", "hvac")]
        smaller = cooling if sum(e.va for e in cooling) <= sum(e.va for e in heating) else heating
        if not cooling or not heating:
            smaller = []
        left_out.extend(smaller)
        counted.extend(entry for entry in own if entry not in smaller)
    return counted, left_out


def _without_cooking(
    units: dict[str, list[Counted]],
    context: NodeContext,
    counted: Sequence[Counted],
    left_out: Sequence[Counted],
    percent: float,
    missing: int,
    house: list[Demand],
) -> OptionalResult:
    """Units without electric cooking: 8 kW is added for each, and the lesser of this and the standard method holds."""
    assumed = rule_220(context.edition, "multifamily_cooking_assumed") * 1000
    connected = sum(entry.va for entry in counted)
    demand = (connected + missing * assumed) * percent / 100
    standard = standard_demand([entry for own in units.values() for entry in own], context)
    by_standard = sum(line.demand_va for line in standard)
    if by_standard <= demand:
        return OptionalResult([*standard, *house])
    factor = f"{len(units)} dwelling units at {percent:g} %, with 8 kW of cooking for {missing} that have none"
    parts = tuple((entry, entry.va / connected * demand) for entry in counted) if connected else ()
    return OptionalResult(
        [Demand("dwelling units", parts, factor, "220.84", tuple(left_out), units=len(units)), *house]
    )


# --- schools and restaurants ---------------------------------------------------------------------------------------


def _school(loads: Sequence[Counted], context: NodeContext, system: VoltageSystem | None) -> OptionalResult:
    """220.86: the connected load a square foot in steps, of heating and cooling the larger only.

    The area is that of the lighting by area below.
    """
    if not any(entry.load.kind in CLIMATE_KINDS for entry in loads):
        return OptionalResult(refused="no electric heating or air conditioning is fed here")
    area = sum(entry.load.area_ft2 for entry in loads if entry.load.kind in ("lighting", DWELLING_LIGHTING))
    if area <= 0:
        return OptionalResult(needs="the floor area (lighting by area, as 'lighting 5_400 ft2 school')")
    counted, left_out = _larger_climate({"school": list(loads)})
    total = full(counted)
    steps = school_steps(context.edition)
    demand = school_demand(total, area, steps)
    factor = f"{total / area:.2f} VA/ft2: first 3 at 100 %, next 17 at 75 %, rest at 25 %"
    if left_out:
        factor += f"; {', '.join(dict.fromkeys(e.load.tag or e.load.name or e.load.kind for e in left_out))} left out"
    return OptionalResult([Demand("school", share(counted, demand, total), factor, "220.86", tuple(left_out))])


def _restaurant(loads: Sequence[Counted], context: NodeContext, system: VoltageSystem | None) -> OptionalResult:
    """220.88, by the column of restaurants that are not all-electric."""
    return _restaurant_line(loads, context, all_electric=False)


def _all_electric_restaurant(
    loads: Sequence[Counted], context: NodeContext, system: VoltageSystem | None
) -> OptionalResult:
    """220.88, by the column of all-electric restaurants."""
    return _restaurant_line(loads, context, all_electric=True)


def _restaurant_line(loads: Sequence[Counted], context: NodeContext, all_electric: bool) -> OptionalResult:
    total = full(loads)
    demand = restaurant_demand(total / 1000, restaurant_rows(context.edition, all_electric)) * 1000
    words = "all-electric" if all_electric else "not all-electric"
    factor = f"{total / 1000:.1f} kVA connected, {words}"
    return OptionalResult([Demand("restaurant", share(loads, demand, total), factor, "220.88")])


# --- farms ---------------------------------------------------------------------------------------------------------


def _farm_building(loads: Sequence[Counted], context: NodeContext, system: VoltageSystem | None) -> OptionalResult:
    if any(entry.load.dwelling for entry in loads):
        return OptionalResult(refused="a dwelling unit is fed here; it goes by Part III or IV")
    return OptionalResult(building_demand(loads, context))


def _farm(loads: Sequence[Counted], context: NodeContext, system: VoltageSystem | None) -> OptionalResult:
    return OptionalResult(farm_demand(loads, context))


_METHODS: dict[str, Callable[[Sequence[Counted], NodeContext, VoltageSystem | None], OptionalResult]] = {
    "optional dwelling": _one_dwelling,
    "optional existing dwelling": _existing_dwelling,
    "optional multifamily": _multifamily,
    "optional school": _school,
    "optional restaurant": _restaurant,
    "optional all-electric restaurant": _all_electric_restaurant,
    "farm building": _farm_building,
    "farm": _farm,
}
