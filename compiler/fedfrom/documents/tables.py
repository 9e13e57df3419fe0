"""A table for readers, before it is a sheet, a worksheet or text: typed cells, so that numbers stay numbers.

A cell is a text, a number, or None = not known. "" = does not apply.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import TypeAlias

Cell: TypeAlias = str | int | float | None

# Stands in a cell whose value is not known; explained in every legend.
NOT_KNOWN = "N/K"


@dataclass(frozen=True, slots=True)
class Column:
    """A column: heading, unit under it, width in inches on an 11x17 sheet, decimals of its numbers."""

    head: str
    unit: str = ""
    width: float = 0.6
    digits: int = 0
    right: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under columns. `note` stands under the table."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    note: str = ""


def number_text(value: float, digits: int) -> str:
    """A number with its decimals (halves away from zero, as spreadsheets do) and thousands separated; never "-0"."""
    exact = Decimal(repr(float(value))).quantize(Decimal(1).scaleb(-digits), ROUND_HALF_UP)
    text = f"{exact:,f}"
    return text.removeprefix("-") if not text.strip("-0.,") else text


def cell_text(cell: Cell, digits: int = 0) -> str:
    """A cell as it is printed."""
    if cell is None:
        return NOT_KNOWN
    return cell if isinstance(cell, str) else number_text(cell, digits)


def text_column(head: str, width: float) -> Column:
    return Column(head, "", width)


def number_column(head: str, unit: str, width: float, digits: int = 0) -> Column:
    return Column(head, unit, width, digits, right=True)
