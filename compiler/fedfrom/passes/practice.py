"""Single figures and typical values from the practice tables, typed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from fedfrom.tables import Edition

VOLTAGE_COLUMNS = ((240.0, "usual_at_240_v"), (480.0, "usual_at_480_v"), (600.0, "usual_at_600_v"))


@cache
def assumption(edition: Edition, key: str) -> float:
    """A figure of `fault_assumptions`. Raises KeyError for an unknown key."""
    for row in edition.rows("fault_assumptions"):
        if row["key"] == key:
            return float(row["value"])
    raise KeyError(key)


@dataclass(frozen=True, slots=True)
class TypicalImpedance:
    """Typical percent impedance and X/R of a transformer, for the next listed size, and which row they come from."""

    percent: float
    x_over_r: float
    row: str


@cache
def typical_impedance(edition: Edition, kva: float, phases: int, utility: bool = False) -> TypicalImpedance | None:
    """Typical values for a transformer: the listed size nearest to `kva` (the smaller one when between), or None."""
    if utility:
        kinds: tuple[str, ...] = ("3-phase utility pad-mounted", "3-phase substation")
    else:
        kinds = ("3-phase dry-type",) if phases == 3 else ("1-phase dry-type",)
    if utility and phases != 3:
        kinds = ("1-phase dry-type",)
    rows = [row for row in edition.rows("transformer_impedance") if row["type"].startswith(kinds)]
    if not rows:
        return None
    row = min(rows, key=lambda row: (abs(float(row["kva"]) - kva), float(row["kva"])))
    percent, ratio = float(row["z_percent_typical"]), float(row["x_over_r_typical"])
    return TypicalImpedance(percent, ratio, f"{row['type']}, {float(row['kva']):g} kVA")


@dataclass(frozen=True, slots=True)
class MotorContribution:
    """How a running motor feeds a fault."""

    multiple: float
    x_over_r: float


@cache
def motor_contribution(edition: Edition, load_kind: str, horsepower: float | None) -> MotorContribution | None:
    """The row for a load kind and size, None for kinds that feed nothing into a fault."""
    found = None
    for row in edition.rows("motor_contribution"):
        if row["load_kind"] == load_kind and float(row["smallest_hp"]) <= (horsepower or 0.0):
            found = MotorContribution(float(row["multiple_of_full_load"]), float(row["x_over_r"]))
    return found


@cache
def ratings_at(edition: Edition, table: str, volts: float) -> tuple[float, ...]:
    """Ratings usual at a voltage (line to line), A, rising; `interrupting_ratings` or `gear_short_circuit_ratings`."""
    column = next((name for limit, name in VOLTAGE_COLUMNS if volts <= limit), "usual_at_600_v")
    return tuple(float(row["rating_ka"]) * 1000 for row in edition.rows(table) if row[column] == "1")


def smallest_rating(edition: Edition, table: str, volts: float, duty_a: float) -> float | None:
    """The smallest usual rating that is not below a duty, A, or None where no rating suffices."""
    return next((rating for rating in ratings_at(edition, table, volts) if rating >= duty_a), None)
