"""Figures of the practice table `section_choice`."""

from __future__ import annotations

from functools import cache

from fedfrom.tables import Edition


def section_choice(edition: Edition, key: str) -> float:
    """A figure of the practice table `section_choice`. Raises KeyError for an unknown key."""
    return _choices(edition)[key]


@cache
def _choices(edition: Edition) -> dict[str, float]:
    return {row["key"]: float(row["value"]) for row in edition.rows("section_choice")}
