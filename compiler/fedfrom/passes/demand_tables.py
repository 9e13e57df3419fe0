"""The demand tables of an edition, typed for the formulas."""

from __future__ import annotations

from functools import cache

from fedfrom.formulas.demand_dwelling import ClimateFactors
from fedfrom.formulas.demand_ranges import RangeRow
from fedfrom.formulas.demand_steps import Step
from fedfrom.tables import Edition

CountRow = tuple[int, int | None, float]


def _maybe(text: str) -> float | None:
    return float(text) if text else None


def _maybe_int(text: str) -> int | None:
    return int(text) if text else None


@cache
def lighting_steps(edition: Edition, occupancy: str) -> tuple[Step, ...]:
    """Demand steps of general lighting (Table 220.45); those of all other occupancies where it has no rows."""
    rows = [row for row in edition.rows("demand_lighting") if row["occupancy_key"] == occupancy]
    rows = rows or [row for row in edition.rows("demand_lighting") if row["occupancy_key"] == "all_others"]
    return tuple((float(row["from_va"]), _maybe(row["to_va"]), float(row["demand_percent"])) for row in rows)


@cache
def receptacle_steps(edition: Edition, care_category: int = 0) -> tuple[tuple[Step, ...], str]:
    """Demand steps of non-dwelling receptacle loads and their clause: Table 220.47, or 220.110 for patient care spaces
    of a category; an edition without the latter counts them as others."""
    named = {0: "non_dwelling", 1: "health_care_category_1_2", 2: "health_care_category_1_2"}
    wanted = named.get(care_category, "health_care_category_3_4")
    table = edition.rows("demand_receptacles")
    rows = [row for row in table if row["occupancy"] == wanted]
    clause = "220.110" if rows and care_category else "Table 220.47"
    rows = rows or [row for row in table if row["occupancy"] == "non_dwelling"]
    steps = tuple((float(row["from_va"]), _maybe(row["to_va"]), float(row["demand_percent"])) for row in rows)
    return steps, clause


@cache
def kitchen_rows(edition: Edition) -> tuple[CountRow, ...]:
    """Table 220.56."""
    return tuple(
        (int(row["units_from"]), _maybe_int(row["units_to"]), float(row["demand_percent"]))
        for row in edition.rows("demand_kitchen_220_56")
    )


@cache
def dryer_percent(edition: Edition, count: int) -> float:
    """Table 220.54: the last row also for more."""
    rows = edition.rows("demand_dryers_220_54")
    for row in rows:
        if int(row["number_of_dryers"]) >= count:
            return float(row["demand_percent"])
    return float(rows[-1]["demand_percent"])


@cache
def range_rows(edition: Edition) -> tuple[RangeRow, ...]:
    """Table 220.55."""
    return tuple(
        RangeRow(
            int(row["number_from"]),
            _maybe_int(row["number_to"]),
            float(row["column_a_percent_under_3_5_kw"]),
            float(row["column_b_percent_3_5_to_8_75_kw"]),
            float(row["column_c_base_kw_not_over_12_kw"]),
            float(row["column_c_added_kw_per_range"]),
        )
        for row in edition.rows("demand_ranges_220_55")
    )


@cache
def multifamily_rows(edition: Edition) -> tuple[CountRow, ...]:
    """Table 220.84(B)."""
    return tuple(
        (int(row["dwelling_units_from"]), _maybe_int(row["dwelling_units_to"]), float(row["demand_percent"]))
        for row in edition.rows("demand_multifamily_220_84")
    )


@cache
def school_steps(edition: Edition) -> tuple[Step, ...]:
    """Table 220.86, steps in VA a square foot."""
    return tuple(
        (float(row["from_va_per_ft2"]), _maybe(row["to_va_per_ft2"]), float(row["demand_percent"]))
        for row in edition.rows("demand_school_220_86")
    )


@cache
def restaurant_rows(
    edition: Edition, all_electric: bool
) -> tuple[tuple[float, float | None, float, float, float], ...]:
    """Table 220.88 for all-electric restaurants or the others."""
    prefix = "all_electric" if all_electric else "not_all_electric"
    return tuple(
        (
            float(row["total_connected_from_kva"]),
            _maybe(row["total_connected_to_kva"]),
            float(row[f"{prefix}_base_kva"]),
            float(row[f"{prefix}_percent_of_excess"]),
            float(row["excess_over_kva"]),
        )
        for row in edition.rows("demand_restaurant_220_88")
    )


@cache
def optional_dwelling_steps(edition: Edition, clause: str, item: str) -> tuple[Step, ...]:
    """Steps in VA of 220.82(B) or 220.83 for general loads."""
    rows = [row for row in edition.rows("demand_dwelling_optional") if row["clause"] == clause and row["item"] == item]
    steps = []
    for row in rows:
        high = _maybe(row["to_kva"])
        steps.append((float(row["from_kva"]) * 1000, None if high is None else high * 1000, float(row["percent"])))
    return tuple(steps)


@cache
def climate_factors(edition: Edition) -> ClimateFactors:
    """Percentages of 220.82(C)."""
    by_clause: dict[str, list[float]] = {}
    for row in edition.rows("demand_dwelling_optional"):
        by_clause.setdefault(row["clause"], []).append(float(row["percent"]))
    return ClimateFactors(
        few_units_pct=by_clause["220.82(C)(4)"][0],
        many_units_pct=by_clause["220.82(C)(5)"][0],
        supplemental_pct=min(by_clause["220.82(C)(3)"]),
    )


@cache
def elevator_factor(edition: Edition, count: int) -> float:
    """Table 620.14: the last row also for more cars."""
    rows = edition.rows("elevators_620_14")
    for row in rows:
        if int(row["elevators"]) >= count:
            return float(row["factor"])
    return float(rows[-1]["factor"])


@cache
def by_count_rows(edition: Edition, kind: str) -> tuple[tuple[CountRow, ...], str]:
    """Demand by the number of lots, sites or receptacles of a kind, and its clause."""
    rows = [row for row in edition.rows("demand_by_count") if row["kind"] == kind]
    steps = ((int(row["units_from"]), _maybe_int(row["units_to"]), float(row["demand_percent"])) for row in rows)
    return tuple(steps), rows[0]["clause"]


@cache
def farm_building_row(edition: Edition) -> tuple[float, float, float, float]:
    """Table 220.102: amperes at 240 V in full, amperes of the next step, its percentage, that of the rest."""
    row = edition.rows("farm_220_102")[0]
    return (float(row["first_a"]), float(row["next_a"]), float(row["next_percent"]), float(row["rest_percent"]))


@cache
def farm_ranks(edition: Edition) -> tuple[float, ...]:
    """Table 220.103: percentages by the size of the building's demand, the last for all others."""
    return tuple(float(row["demand_percent"]) for row in edition.rows("farm_220_103"))


@cache
def rule_220(edition: Edition, key: str) -> float:
    """A figure of the keyed rules of Article 220. Raises KeyError without it."""
    for row in edition.rows("rules_220"):
        if row["key"] == key:
            return float(row["value"])
    raise KeyError(f"no {key!r} in rules_220")
