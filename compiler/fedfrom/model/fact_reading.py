"""Reading single figures out of facts, wherever in the line they stand (`X/R 8` may follow a comma or not)."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.model.items import Fact
from fedfrom.quantity import Dimension, Quantity


def parts(fact: Fact) -> Iterator[tuple[str, object]]:
    """Every value of a fact with the name of its part or option, in the order written; lists are opened."""
    for name, value in fact.values.items():
        yield from _opened(name, value)
    for option, values in fact.options.items():
        for name, value in values.items():
            yield from _opened(option if name in ("", "value", "amount") else f"{option} {name}", value)
        if not values:
            yield option, True


def amount(fact: Fact | None, dimension: Dimension) -> float | None:
    """The first quantity of this dimension in a fact, in base units, or None."""
    if fact is None:
        return None
    for _, value in parts(fact):
        if isinstance(value, Quantity) and value.dimension is dimension:
            return float(value)
    return None


def whole(fact: Fact | None) -> int | None:
    """The first whole number in a fact, or None."""
    if fact is None:
        return None
    return next((value for _, value in parts(fact) if isinstance(value, int) and not isinstance(value, bool)), None)


def option_amount(fact: Fact | None, option: str, dimension: Dimension) -> float | None:
    """The first quantity of this dimension in one option of a fact, in base units, or None."""
    values = fact.options.get(option, {}) if fact is not None else {}
    for value in values.values():
        if isinstance(value, Quantity) and value.dimension is dimension:
            return float(value)
    return None


def ratio(fact: Fact | None) -> float | None:
    """The X/R written in a fact, or None."""
    if fact is None:
        return None
    for name, value in parts(fact):
        if name.lower().startswith(("x/r", "x over r", "xr")):
            number = _number(value)
            if number is not None:
                return number
    return None


def words(fact: Fact | None) -> tuple[str, ...]:
    """Every word or text in a fact, and the names of options that carry nothing else."""
    if fact is None:
        return ()
    found = [value for _, value in parts(fact) if isinstance(value, str)]
    found += [name for name, value in parts(fact) if value is True]
    return tuple(found)


def _opened(name: str, value: object) -> Iterator[tuple[str, object]]:
    if isinstance(value, tuple):
        for inner in value:
            yield name, inner
    else:
        yield name, value


def _number(value: object) -> float | None:
    if isinstance(value, Quantity):
        return float(value) if value.dimension is Dimension.NUMBER else None
    if isinstance(value, bool):
        return None
    try:
        return float(value)  # type: ignore[arg-type]
    except (TypeError, ValueError):
        return None
