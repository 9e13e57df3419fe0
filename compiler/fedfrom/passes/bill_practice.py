"""The practice tables behind the bill, typed."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.tables import Edition


@dataclass(frozen=True, slots=True)
class BillClass:
    """How a class of gear stands in the bill: noun of its description, specification section, lead kind."""

    noun: str
    section: str
    kind: str
    floor_standing: bool


def bill_class(edition: Edition, name: str) -> BillClass:
    """The row of a class; a class without a row stands under its own name and the division's general section."""
    for row in edition.rows("bill_classes"):
        if row["class"] == name:
            return BillClass(row["noun"], row["section"], row["kind"], row["floor_standing"] == "1")
    return BillClass(name.capitalize(), "26 05 00", "engineered", False)


def allowance(edition: Edition, key: str) -> float:
    """A figure of the take-off table. Raises KeyError for an unknown key."""
    for row in edition.rows("take_off"):
        if row["key"] == key:
            return float(row["value"])
    raise KeyError(key)


def make_up_ft(edition: Edition, end: str) -> float:
    """Conductor length inside gear of this class, ft, at one end."""
    rows = {row["end"]: float(row["make_up_ft"]) for row in edition.rows("make_up")}
    return rows.get(end, rows["other gear"])


def assumed_facts(edition: Edition, name: str) -> tuple[tuple[str, str], ...]:
    """(fact, what is assumed where it is not stated) for a class."""
    rows = edition.rows("bill_assumptions")
    return tuple((row["fact"], row["assumed"]) for row in rows if row["class"] == name)
