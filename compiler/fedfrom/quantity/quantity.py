"""`Quantity`: an exact number in the base unit of its dimension, and the arithmetic that the language allows."""

from __future__ import annotations

import enum
from dataclasses import dataclass
from fractions import Fraction


class DimensionError(ValueError):
    """Two quantities whose dimensions do not go together; the message names both."""


class Dimension(enum.Enum):
    """A dimension; its value is the word used in messages. Base units are in `UNITS` (factor 1)."""

    NUMBER = "a plain number"
    PERCENT = "a percentage"
    LENGTH = "a length"
    AREA = "an area"
    CURRENT = "a current"
    VOLTAGE = "a voltage"
    APPARENT = "an apparent power"
    REAL = "a real power"
    REACTIVE = "a reactive power"
    SHAFT = "a shaft power"
    TEMPERATURE = "a temperature"
    IMPEDANCE = "an impedance"
    FREQUENCY = "a frequency"
    TIME = "a time"
    AREA_LOAD = "a load per area"


#: The unit in which a designer usually writes a quantity of each dimension, for messages and examples.
USUAL_UNITS = {
    Dimension.PERCENT: "%",
    Dimension.LENGTH: "ft",
    Dimension.AREA: "ft2",
    Dimension.CURRENT: "A",
    Dimension.VOLTAGE: "V",
    Dimension.APPARENT: "kVA",
    Dimension.REAL: "kW",
    Dimension.REACTIVE: "kVAR",
    Dimension.SHAFT: "hp",
    Dimension.TEMPERATURE: "C",
    Dimension.IMPEDANCE: "ohm",
    Dimension.FREQUENCY: "Hz",
    Dimension.TIME: "min",
    Dimension.AREA_LOAD: "VA/ft2",
}


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: base value = number * factor + offset."""

    name: str
    dimension: Dimension
    factor: Fraction
    offset: Fraction = Fraction(0)


def _unit(name: str, dimension: Dimension, factor: Fraction | int, offset: Fraction | int = 0) -> Unit:
    return Unit(name, dimension, Fraction(factor), Fraction(offset))


# Base units: ft, ft2, A, V, VA, W, var, hp, C, ohm, Hz, s, VA/ft2, %. 1 ft = 0.3048 m exactly.
UNITS: dict[str, Unit] = {
    unit.name: unit
    for unit in (
        _unit("%", Dimension.PERCENT, 1),
        _unit("ft", Dimension.LENGTH, 1),
        _unit("m", Dimension.LENGTH, Fraction(10000, 3048)),
        _unit("inch", Dimension.LENGTH, Fraction(1, 12)),
        _unit("mm", Dimension.LENGTH, Fraction(10, 3048)),
        _unit("ft2", Dimension.AREA, 1),
        _unit("m2", Dimension.AREA, Fraction(10000, 3048) ** 2),
        _unit("A", Dimension.CURRENT, 1),
        _unit("kA", Dimension.CURRENT, 1000),
        _unit("V", Dimension.VOLTAGE, 1),
        _unit("kV", Dimension.VOLTAGE, 1000),
        _unit("VA", Dimension.APPARENT, 1),
        _unit("kVA", Dimension.APPARENT, 1000),
        _unit("MVA", Dimension.APPARENT, 1_000_000),
        _unit("W", Dimension.REAL, 1),
        _unit("kW", Dimension.REAL, 1000),
        _unit("MW", Dimension.REAL, 1_000_000),
        _unit("var", Dimension.REACTIVE, 1),
        _unit("kVAR", Dimension.REACTIVE, 1000),
        _unit("hp", Dimension.SHAFT, 1),
        _unit("C", Dimension.TEMPERATURE, 1),
        _unit("F", Dimension.TEMPERATURE, Fraction(5, 9), Fraction(-160, 9)),
        _unit("ohm", Dimension.IMPEDANCE, 1),
        _unit("Hz", Dimension.FREQUENCY, 1),
        _unit("s", Dimension.TIME, 1),
        _unit("min", Dimension.TIME, 60),
        _unit("h", Dimension.TIME, 3600),
        _unit("days", Dimension.TIME, 86_400),
        _unit("months", Dimension.TIME, 2_629_800),
        _unit("VA/ft2", Dimension.AREA_LOAD, 1),
    )
}


@dataclass(frozen=True, slots=True)
class Quantity:
    """`value` in the base unit of `dimension`; `unit` is the unit written, for messages and `fmt` only."""

    value: Fraction
    dimension: Dimension
    unit: str = ""

    @staticmethod
    def of(number: Fraction | int, unit: str) -> Quantity:
        """A number with a unit name of `UNITS` ("" for a plain number). Raises KeyError for an unknown unit."""
        if not unit:
            return Quantity(Fraction(number), Dimension.NUMBER)
        entry = UNITS[unit]
        return Quantity(Fraction(number) * entry.factor + entry.offset, entry.dimension, unit)

    def __float__(self) -> float:
        return float(self.value)

    def number_in(self, unit: str) -> Fraction:
        """The number in another unit of the same dimension. Raises DimensionError."""
        entry = UNITS[unit]
        if entry.dimension is not self.dimension:
            raise DimensionError(f"{self.dimension.value} cannot be given in {unit}")
        return (self.value - entry.offset) / entry.factor
