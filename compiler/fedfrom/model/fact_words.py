"""A stated fact in words again, for descriptions and schedules."""

from __future__ import annotations

from fedfrom.model.fact_reading import parts
from fedfrom.model.items import Fact
from fedfrom.quantity import Quantity, VoltageSystem


def fact_words(fact: Fact) -> str:
    """The values of a fact in the order written: "surface", "200 kA", "2 up 4 down 2.5 %". "" where it has none."""
    return " ".join(word for _, value in parts(fact) if (word := _word(value)))


def _word(value: object) -> str:
    if isinstance(value, Quantity):
        number = float(value.number_in(value.unit)) if value.unit else float(value)
        return f"{number:g} {value.unit}".strip()
    if isinstance(value, VoltageSystem):
        return value.literal
    return value if isinstance(value, str) else str(value) if isinstance(value, int) and value is not True else ""
