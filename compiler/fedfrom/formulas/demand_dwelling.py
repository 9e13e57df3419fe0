"""Dwelling units: optional methods of NEC 220.82 and 220.83, and fastened appliances (220.53)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fedfrom.formulas.demand_steps import Step, stepped_demand


@dataclass(frozen=True, slots=True)
class Climate:
    """Heating and cooling of one dwelling unit, VA: cooling, heat pumps, electric space heat and its separately
    controlled units; `heat_pump_with_heat` when supplemental heat may run together with the heat pump."""

    cooling_va: float = 0.0
    heat_pump_va: float = 0.0
    heating_va: float = 0.0
    heating_units: int = 0
    heat_pump_with_heat: bool = True


@dataclass(frozen=True, slots=True)
class ClimateFactors:
    """Percentages of 220.82(C): few units, many units, supplemental heat; how many units count as many."""

    few_units_pct: float = 65.0
    many_units_pct: float = 40.0
    supplemental_pct: float = 65.0
    many_units: int = 4


def largest_climate_va(climate: Climate, factors: ClimateFactors) -> tuple[float, str]:
    """The largest of the selections of NEC 220.82(C) in VA, and which it is in words."""
    percent = factors.many_units_pct if climate.heating_units >= factors.many_units else factors.few_units_pct
    heat_alone = climate.heating_va * percent / 100
    choices = [(climate.cooling_va, "cooling at 100 %")]
    if climate.heat_pump_va:
        choices.append((climate.heat_pump_va, "heat pump at 100 %"))
        if climate.heating_va and climate.heat_pump_with_heat:
            both = climate.heat_pump_va + climate.heating_va * factors.supplemental_pct / 100
            choices.append((both, f"heat pump at 100 %, supplemental heat at {factors.supplemental_pct:g} %"))
    if climate.heating_va:
        choices.append((heat_alone, f"electric heat at {percent:g} %"))
    return max(choices, key=lambda choice: choice[0])


def optional_dwelling_va(general_va: float, climate_va: float, steps: Sequence[Step]) -> float:
    """The load in VA of one dwelling unit by the optional method: general loads in steps plus heating or cooling.

    NEC 220.82(B) and (C). `steps`: first 10 kVA at 100 %, rest at 40 %.
    """
    return stepped_demand(general_va, steps) + climate_va


def fastened_appliances_va(ratings_va: Sequence[float], least_count: int, percent: float) -> float:
    """The demand in VA of appliances fastened in place, with the factor from `least_count` pieces on (NEC 220.53)."""
    total = sum(ratings_va)
    return total * percent / 100 if len(ratings_va) >= least_count else total
