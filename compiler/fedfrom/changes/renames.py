"""Which items only got another tag: same kind, same source, same content."""

from __future__ import annotations

from collections.abc import Mapping

from fedfrom.changes.plain import plain
from fedfrom.model.items import Item, Model

# What a tag stands in by itself; the content is compared without it.
_NAMES = frozenset({"tag", "enclosed"})


def renames(old: Model, new: Model) -> dict[str, str]:
    """New tag by old tag. An item counts as renamed when exactly one new item says the same from the same source.

    Found from the sources down, so that a renamed board does not make everything below it look new.
    """
    gone = [tag for tag in old.items if tag not in new.items]
    come = [tag for tag in new.items if tag not in old.items]
    names: dict[str, str] = {}
    searching = bool(gone and come)
    while searching:
        searching = False
        for before in list(gone):
            alike = [tag for tag in come if _content(old.items[before], names) == _content(new.items[tag], {})]
            if len(alike) == 1:
                names[before] = alike[0]
                gone.remove(before)
                come.remove(alike[0])
                searching = True
    return names


def _content(item: Item, names: Mapping[str, str]) -> object:
    """All that an item says, but for its own tag and the ids that are made from it."""
    own = {**names, item.tag: "·"}
    return plain(item, own, _NAMES)
