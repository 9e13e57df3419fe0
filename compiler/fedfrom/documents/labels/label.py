"""A label: what it says, where it goes, and the clause that asks for it."""

from __future__ import annotations

from dataclasses import dataclass, field

from fedfrom.tables import Edition

SMALL, WIDE, PLATE = "4 x 2 in", "4 x 3 in", "2.5 x 1 in"
BLANK = "__________"


@dataclass(frozen=True, slots=True)
class Label:
    """One label. `kind` what sort it is, `heading` its signal word ("WARNING", "CAUTION", "NOTICE", "" for none).

    `lines` are printed as they stand. `needs`: what is missing before it can be printed, "" where nothing is; such a
    label stands in the list and is not printed. `note` is for whoever prints and mounts it, not on the label.
    """

    kind: str
    tag: str
    place: str
    clause: str
    heading: str
    lines: tuple[str, ...]
    size: str = SMALL
    quantity: int = 1
    needs: str = ""
    note: str = ""
    status: str = "new"


@dataclass(frozen=True, slots=True)
class Card:
    """A panel directory: one line a circuit, in the order of the positions; `lines` are (positions, purpose)."""

    tag: str
    title: str
    place: str
    clause: str
    system: str
    source: str
    lines: tuple[tuple[str, str], ...] = field(default_factory=tuple)


def cited(edition: Edition, *keys: str) -> str:
    """The clauses of the edition, its name once: "NEC 2023, 110.24, 408.6"."""
    texts = [edition.clause(key) for key in keys]
    head = f"{edition.key}, "
    return head + ", ".join(dict.fromkeys(text.removeprefix(head) for text in texts))
