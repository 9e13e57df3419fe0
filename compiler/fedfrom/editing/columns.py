"""Columns of lines that stand together. Nothing is aligned after a value, so that a changed value changes one line.

Columns widen in steps, and a name that is longer than most counts for none, so that a new neighbour seldom moves the
others. Widths are ours, chosen by eye.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from fedfrom.editing.cells import Cells, Shape, join

WIDEST = 100
_STEP, _LABEL_STEP = 4, 8
_LONGEST_NAME, _LONGEST_LABEL = 15, 39
_LEAST_NAME, _LEAST_PLACE, _LEAST_KIND = 8, 12, 12
_LEAST_LABEL = 16


def column(texts: Iterable[str], least: int, longest: int, step: int) -> int:
    """The width of a column: its longest text that counts and a blank, up to the next step."""
    width = max((len(text) for text in texts if len(text) <= longest), default=0)
    return max(least, -(-(width + 1) // step) * step)


def property_column(rows: Iterable[Cells], least: int = _LEAST_NAME) -> int:
    """The width of the column of names in a block."""
    names = (row.name for row in rows if row.shape is Shape.PROPERTY)
    return column(names, least, _LONGEST_NAME, _STEP)


def write_property(row: Cells, width: int) -> str:
    """A property with its value in the column."""
    name = " ".join(filter(None, (row.place, row.status, row.name)))
    return padded(name, width, row.rest)


def write_loads(rows: Sequence[Cells]) -> list[tuple[str, str]]:
    """A run of load lines that stand together: each with its value in the column, and with one blank before it."""
    places = column((row.place for row in rows if row.place), _LEAST_PLACE, _LONGEST_NAME, _STEP)
    kinds = column((row.name for row in rows), _LEAST_KIND, _LONGEST_NAME, _STEP)
    labelled = [row for row in rows if row.label and row.rest and not row.rest.startswith(",")]
    labels = column((row.label for row in labelled), _LEAST_LABEL, _LONGEST_LABEL, _LABEL_STEP)
    before = places if any(row.place for row in rows) else 0
    return [_write_load(row, places, kinds, before + kinds + labels) for row in rows]


def _write_load(row: Cells, places: int, kinds: int, values: int) -> tuple[str, str]:
    start = f"{row.place:<{places - 1}} " if row.place else ""
    name = start + " ".join(filter(None, (row.status, row.name)))
    with_label = padded(name, len(start) + kinds, row.label)
    if not row.label:
        line = padded(name, len(start) + kinds, row.rest)
        return line, line
    return padded(with_label, values, row.rest), join(with_label, row.rest)


def padded(text: str, width: int, rest: str) -> str:
    """`text`, blanks up to `width` (one at least), `rest`; a comma follows at once."""
    if not rest or rest.startswith(","):
        return text + rest
    return f"{text:<{width - 1}} {rest}"
