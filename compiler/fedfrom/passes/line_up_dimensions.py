"""Sizes of gear from the practice table `gear_dimensions`, or from the project's own file in its place."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from fedfrom.results.assembly import PLANNING
from fedfrom.tables import Edition

TABLE = "gear_dimensions"


@dataclass(frozen=True, slots=True)
class Size:
    """One row: what it serves up to, sizes in inches and weight in pounds (None: not given), two `across` or one."""

    up_to: float
    unit: str
    width_in: float | None
    depth_in: float | None
    height_in: float | None
    per_row_in: float
    weight_lb: float | None
    mounting: str
    across: int


@cache
def _sizes(edition: Edition, kind: str, part: str) -> tuple[Size, ...]:
    return tuple(
        Size(
            float(row["up_to"]),
            row["unit"],
            _number(row["width_in"]),
            _number(row["depth_in"]),
            _number(row["height_in"]),
            _number(row["per_row_in"]) or 0.0,
            _number(row["weight_lb"]),
            row["mounting"],
            int(row["across"] or "1"),
        )
        for row in edition.rows(TABLE)
        if row["kind"] == kind and row["part"] == part
    )


def _number(text: str) -> float | None:
    return float(text) if text.strip() else None


def size_of(edition: Edition, kind: str, part: str, rating: float | None = None) -> Size | None:
    """The first row of a part that serves a rating (0 in `up_to`: any); None where no row does, or none is known."""
    rows = _sizes(edition, kind, part)
    if rating is None:
        return rows[0] if rows and rows[0].up_to == 0 else None
    return next((row for row in rows if row.up_to == 0 or row.up_to >= rating), None)


def unit_of(edition: Edition, kind: str, part: str) -> str:
    """What a part's rows are counted in ("A", "kVA", "kW"), "" where there is no such part."""
    rows = _sizes(edition, kind, part)
    return rows[0].unit if rows else ""


def height_of(edition: Edition, kind: str, part: str, rating: float | None = None) -> float | None:
    """The height of a part in inches, None where the table has none."""
    found = size_of(edition, kind, part, rating)
    return found.height_in if found is not None else None


@cache
def basis(edition: Edition, kind: str) -> str:
    """Where the sizes of a kind come from, in words for drawings: planning figures, or the project's own file."""
    rows = [row for row in edition.rows(TABLE) if row["kind"] == kind]
    own = [row["own"] for row in rows if row.get("own")]
    if not own:
        return PLANNING
    files = ", ".join(dict.fromkeys(own))
    return f"dimensions from {files}" if len(own) == len(rows) else f"dimensions from {files}, the rest for planning"
