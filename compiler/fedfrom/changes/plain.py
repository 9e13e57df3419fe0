"""Model values as plain data that can be compared: without places, and with the tags of the new side."""

from __future__ import annotations

import dataclasses
import enum
from collections.abc import Mapping

from fedfrom.model.items import FactTable, Origin, Value

PLACES = frozenset({"span", "tag_span", "source_span", "positions_span", "rule_span", "subject_span", "trail"})
NUMBERING = frozenset({"order", "index"})
PROVENANCE = frozenset({"origin", "computed"})


def plain(value: object, names: Mapping[str, str], without: frozenset[str] = frozenset()) -> object:
    """A value as nested tuples; what a default gave counts as not written.

    `names` gives the new tag for an old one; `without` leaves out fields of the first level.
    """
    if isinstance(value, Value):
        return None if value.origin is Origin.DEFAULT else (plain(value.value, names), value.assumed)
    if isinstance(value, FactTable):
        return tuple(plain(fact, names) for fact in value.facts if fact.origin is not Origin.DEFAULT)
    if isinstance(value, enum.Enum):
        return value.value
    if isinstance(value, str):
        return _renamed(value, names)
    if isinstance(value, Mapping):
        return tuple((key, plain(each, names)) for key, each in value.items())
    if isinstance(value, frozenset):
        return tuple(sorted(str(each) for each in value))
    if isinstance(value, tuple):
        return tuple(plain(each, names) for each in value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return tuple(
            (each.name, plain(getattr(value, each.name), names))
            for each in dataclasses.fields(value)
            if each.name not in PLACES and each.name not in NUMBERING | PROVENANCE | without
        )
    return value


def _renamed(text: str, names: Mapping[str, str]) -> str:
    """A text that is a tag, or begins with one and a full stop ("LP1.3", "ATS1.normal")."""
    if text in names:
        return names[text]
    head, dot, rest = text.partition(".")
    return f"{names[head]}.{rest}" if dot and head in names else text


def renamed(text: str, names: Mapping[str, str]) -> str:
    """A key or tag of the old side by the names of the new one."""
    return _renamed(text, names)


def parts(value: object, names: Mapping[str, str], without: frozenset[str] = frozenset()) -> dict[str, object]:
    """The fields of a record in plain form, by name."""
    made = plain(value, names, without)
    return dict(made) if isinstance(made, tuple) and all(_is_field(each) for each in made) else {"": made}


def _is_field(each: object) -> bool:
    return isinstance(each, tuple) and len(each) == 2 and isinstance(each[0], str)
