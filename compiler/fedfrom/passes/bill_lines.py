"""What is bought and what is only listed, and the making of a counted line."""

from __future__ import annotations

from fedfrom.model.items import Status
from fedfrom.results.types import BillLine

LIST = "factory gear"
BOUGHT = frozenset({Status.NEW})
# Statuses that make work but no purchase: listed apart, with the verb of the work.
LISTED_APART = {Status.DEMOLISH: "Remove", Status.RELOCATED: "Relocate"}


def count_line(
    key: str, section: str, tags: tuple[str, ...], description: str, quantity: float, kind: str, status: Status,
    assumed: tuple[str, ...] = (), note: str = "", part_of: str = "", unit: str = "ea",
) -> BillLine:  # fmt: skip
    """A counted line of factory gear, or the work line of what is removed or relocated."""
    verb = LISTED_APART.get(status)
    if verb:
        description, kind, assumed = f"{verb}: {description[0].lower()}{description[1:]}", "", ()
    return BillLine(
        LIST, key, section, tags, description, quantity, unit, quantity, 0.0, kind, status.value, note, assumed, part_of
    )


def is_listed(status: Status, by: str) -> bool:
    """Whether an item stands in the bill at all."""
    return not by and (status in BOUGHT or status in LISTED_APART)
