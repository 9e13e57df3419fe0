"""What the practice table says of each load kind, typed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from fedfrom.tables import Edition


@dataclass(frozen=True, slots=True)
class KindTraits:
    """Continuous at its circuit and at feeders, power factor, whether it turns a motor, whether it is nonlinear."""

    continuous_circuit: bool
    continuous_feeder: bool
    power_factor: float
    turns_motor: bool
    nonlinear: bool


@cache
def kind_traits(edition: Edition) -> dict[str, KindTraits]:
    """Traits by load kind (practice table `load_kinds`)."""
    return {
        row["kind"]: KindTraits(
            row["continuous_circuit"] == "1",
            row["continuous_feeder"] == "1",
            float(row["power_factor"]),
            row["turns_motor"] == "1",
            row["nonlinear"] == "1",
        )
        for row in edition.rows("load_kinds")
    }


@cache
def traits(edition: Edition, kind: str) -> KindTraits:
    """Traits of one kind; those of `equipment` for a kind that the table does not have."""
    table = kind_traits(edition)
    return table.get(kind, table["equipment"])


@cache
def unit_load(edition: Edition, key: str) -> float | None:
    """A unit load of NEC 220.14 and its neighbours, or None where this edition has none."""
    for row in edition.rows("unit_loads_220"):
        if row["key"] == key:
            return float(row["value"])
    return None


@cache
def known_unit_load(edition: Edition, key: str) -> float:
    """A unit load that every edition has. Raises KeyError without it: nothing is guessed."""
    value = unit_load(edition, key)
    if value is None:
        raise KeyError(f"no unit load {key!r} in {edition.key}")
    return value


@dataclass(frozen=True, slots=True)
class LightingRow:
    """A row of the lighting table: key, VA a square foot, whether it contains the 125 % of continuous load."""

    key: str
    va_per_ft2: float
    includes_continuous: bool


@cache
def lighting_row(edition: Edition, occupancy: str) -> LightingRow | None:
    """The row for an occupancy (its key or a plain word of it: "office", "school", "retail"), or None."""
    wanted = occupancy.strip().lower().replace(" ", "_").replace("-", "_")
    rows = [row for row in edition.rows("lighting_220") if row["va_per_ft2"]]
    exact = [row for row in rows if row["key"] == wanted]
    partly = [row for row in rows if wanted and wanted in row["key"].split("_")]
    for row in exact or partly[:1]:
        return LightingRow(row["key"], float(row["va_per_ft2"]), row["includes_continuous_125"] == "1")
    return None


@cache
def circuit_choice(edition: Edition, key: str) -> float:
    """A figure of the practice table `circuit_choice`. Raises KeyError without it."""
    for row in edition.rows("circuit_choice"):
        if row["key"] == key:
            return float(row["value"])
    raise KeyError(f"no {key!r} in circuit_choice")
