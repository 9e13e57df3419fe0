"""Calculations of one form in a table: the formulas once, then a row for each circuit."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from fedfrom.documents.calculations.view import Calculation

# As many calculations of one form as this, and they are tabulated.
FEWEST = 3
# Properties whose calculations are arithmetic alone, so that figures in columns say everything.
TABULATED = frozenset({"drop"})


@dataclass(frozen=True, slots=True)
class Form:
    """`kind` the property ("drop"). `symbols` (symbol, what, unit) of the inputs, `formulas` one a line, `heads` (name,
    unit) of the columns, `rows` of figures; the first column is the subject without its property.
    """

    kind: str
    title: str
    symbols: tuple[tuple[str, str, str], ...]
    formulas: tuple[str, ...]
    heads: tuple[tuple[str, str], ...]
    rows: tuple[tuple[str, ...], ...]
    clause: str


def tabulated(found: Sequence[Calculation]) -> tuple[tuple[Calculation, ...], tuple[Form, ...]]:
    """The calculations that stand for themselves, and tables of the others."""
    groups: dict[object, list[Calculation]] = {}
    for each in found:
        if each.subject.rpartition(".")[2] in TABULATED:
            groups.setdefault(_signature(each), []).append(each)
    tables = [group for group in groups.values() if len(group) >= FEWEST]
    taken = {each.subject for group in tables for each in group}
    return tuple(each for each in found if each.subject not in taken), tuple(_form(group) for group in tables)


def _signature(it: Calculation) -> object:
    return (
        tuple((each.symbol, each.name, _split(each.value)[1]) for each in it.given),
        tuple(line.parts[0] for line in it.lines),
        tuple(_split(line.parts[-1])[1] for line in it.lines),
        it.clause,
        it.state,
    )


def _form(group: Sequence[Calculation]) -> Form:
    first = group[0]
    heads = [(each.symbol, _split(each.value)[1]) for each in first.given]
    heads += [(_left(line.parts[0]), _split(line.parts[-1])[1]) for line in first.lines]
    rows = [
        (
            each.subject.rpartition(".")[0],
            *(_split(given.value)[0] for given in each.given),
            *(_split(line.parts[-1])[0] for line in each.lines),
        )
        for each in group
    ]
    owner = first.subject.rpartition(".")[0]
    return Form(
        first.subject.rpartition(".")[2],
        first.title.replace(f" of circuit {owner}", "").strip(),
        tuple((each.symbol, each.name, _split(each.value)[1]) for each in first.given),
        tuple(line.parts[0] + (f"  [{line.clause}]" if line.clause else "") for line in first.lines),
        (("circuit", ""), *heads),
        tuple(rows),
        first.clause,
    )


_FIGURE = re.compile(r"^(-?[\d,]+(?:\.\d+)?)\s*(.*)$")


def _split(value: str) -> tuple[str, str]:
    """A figure and its unit; a text that is no figure has no unit."""
    match = _FIGURE.match(value)
    return (match[1], match[2]) if match else (value, "")


def _left(formula: str) -> str:
    """What a column is headed with: the left side of a formula, or its first words."""
    left = re.split(r" = |: |, ", formula)[0]
    return left if len(left) <= 16 else f"{left[:14]}…"
