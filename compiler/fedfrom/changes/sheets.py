"""Sheets that a change touches: those whose content differs, title blocks left out."""

from __future__ import annotations

from collections.abc import Set

from fedfrom.changes.types import SheetChange, Side


def sheet_changes(old: Side, new: Side, subjects: Set[str]) -> tuple[SheetChange, ...]:
    """Sheets in the order of the new set, then those that are gone. `subjects`: the tags whose values changed."""
    found = []
    for key in {**new.sheets, **old.sheets}:
        before, after = old.sheets.get(key), new.sheets.get(key)
        sheet = after or before
        if sheet is None or (before and after and before.fingerprint == after.fingerprint):
            continue
        kind = "added" if before is None else "removed" if after is None else "changed"
        tags = (before.tags if before else frozenset()) | (after.tags if after else frozenset())
        found.append(SheetChange(kind, key.partition("/")[0], sheet.title, tuple(sorted(tags & subjects))))
    return tuple(found)
