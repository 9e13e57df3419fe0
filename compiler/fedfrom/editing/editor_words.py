"""The words of the vocabulary in the groups that an editor colours."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from fedfrom.model.items import Status
from fedfrom.quantity import UNITS
from fedfrom.vocabulary import Entry, Vocabulary, load_vocabulary

# The words of the statements with a shape of their own: the grammar knows them, no table does.
CONTROL = ("fedfrom", "include", "typical", "for", "use", "accept", "expect", "change", "omit")
JOINING = ("in", "on", "because", "assumed", "by", "x", "to")


@dataclass(frozen=True, slots=True)
class EditorWords:
    """Names by what they are, the words of closed lists, and the words that join values.

    `names`: properties and options, also where another group has the same word (`battery` of a UPS).
    """

    items: tuple[str, ...]
    statements: tuple[str, ...]
    verbs: tuple[str, ...]
    loads: tuple[str, ...]
    devices: tuple[str, ...]
    names: tuple[str, ...]
    status: tuple[str, ...]
    listed: tuple[str, ...]
    joining: tuple[str, ...]
    units: tuple[str, ...]


def editor_words(vocabulary: Vocabulary | None = None) -> EditorWords:
    """The groups, each with its longest words first."""
    vocabulary = vocabulary or load_vocabulary()
    entries = list(_entries(vocabulary))
    status = tuple(each.value for each in Status)
    listed = {word for words in vocabulary.lists.values() for word in words.words if _is_plain(word)}
    of_kind = {kind: [entry.name for entry in entries if entry.kind == kind and not entry.unnamed] for kind in _KINDS}
    literals = {element.literal for entry in entries for pattern in entry.patterns for element in pattern.elements}
    names = [*of_kind["property"], *of_kind["option"]]
    return EditorWords(
        items=longest_first(of_kind["item"]),
        statements=longest_first(of_kind["statement"]),
        verbs=longest_first(of_kind["verb"]),
        loads=longest_first([*of_kind["load"], *of_kind["reserve"]]),
        devices=longest_first(of_kind["device"]),
        names=longest_first(names),
        status=longest_first(status),
        listed=longest_first(listed - set(JOINING)),
        joining=longest_first({*JOINING, *(word for word in literals if word)} - listed | set(JOINING)),
        units=longest_first({*UNITS, "AWG", "kcmil"}),
    )


_KINDS = ("item", "statement", "verb", "load", "reserve", "device", "property", "option")


def _entries(vocabulary: Vocabulary) -> Iterator[Entry]:
    for scope in vocabulary.scopes.values():
        for entry in scope.entries.values():
            yield entry
            yield from entry.options


def _is_plain(word: str) -> bool:
    """Whether a word of a list can be told from a number and from a letter that is a unit or a tag."""
    return len(word) > 1 and re.search("[a-zA-Z]{2}|%|-|[0-9][A-Z]", word) is not None


def longest_first(words: Iterable[str]) -> tuple[str, ...]:
    """Each word once; a longer one before its own beginning."""
    return tuple(sorted(dict.fromkeys(words), key=lambda word: (-len(word), word)))
