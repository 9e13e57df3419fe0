"""What share of its rated current a load that works in intervals counts with: welders, motors, elevators."""

from __future__ import annotations

from fedfrom.model.fact_reading import amount as fact_amount
from fedfrom.model.fact_reading import words
from fedfrom.model.items import Load
from fedfrom.quantity import Dimension
from fedfrom.tables import Edition
from fedfrom.tables.lookup import welder_multiplier

# Time rating in minutes, up to which a column of Table 430.22(E) holds.
TIME_COLUMNS = ((5.0, "rated_5_min_percent"), (15.0, "rated_15_min_percent"), (60.0, "rated_30_60_min_percent"))
CONTINUOUS_COLUMN = "rated_continuous_percent"


def effective_factor(part: Load, edition: Edition) -> float | None:
    """The share of its rated current that counts: of a welder by its duty cycle (630.11(A), 630.31(A)), of a motor or
    elevator by its duty and time rating (430.22(E)); None where neither is written."""
    if part.kind in ("motor", "elevator"):
        return motor_duty_factor(part, edition)
    duty = fact_amount(part.facts.first("duty"), Dimension.PERCENT)
    if part.kind != "welder" or duty is None:
        return None
    kinds = words(part.facts.first("welder kind"))
    kind = "arc_without_motor_generator"
    if "resistance" in kinds:
        kind = "resistance"
    elif any("motor-generator" in word for word in kinds):
        kind = "arc_with_motor_generator"
    return welder_multiplier(edition, kind, duty) or 1.0


def motor_duty_factor(part: Load, edition: Edition) -> float | None:
    """The share of the nameplate current of a motor by Table 430.22(E); None for continuous duty or where its time
    rating is not written. Elevators are of intermittent duty (620.61(B)); `duty continuous` there is the time rating of
    the machine."""
    fact = part.facts.first("duty")
    if fact is None:
        return None
    said = next(iter(words(fact)), "")
    seconds = fact_amount(fact, Dimension.TIME)
    duty = said
    if part.kind == "elevator":
        duty = "intermittent"
        column = CONTINUOUS_COLUMN if said == "continuous" else _column(seconds)
    else:
        column = _column(seconds)
    if column is None or duty in ("", "continuous"):
        return None
    for row in edition.rows("motor_duty_430_22_e"):
        if row["duty"] == duty and row[column]:
            return float(row[column]) / 100
    return None


def _column(seconds: float | None) -> str | None:
    if seconds is None:
        return None
    return next((name for minutes, name in TIME_COLUMNS if seconds <= minutes * 60), CONTINUOUS_COLUMN)
