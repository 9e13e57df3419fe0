"""A short name for a design: the same for the same content, whatever the file, the place in it, or the time."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache

from fedfrom.model.items import Model

# Where something stands in the text is not part of the design.
PLACES = frozenset({"trail", "order", "index"})
LENGTH = 10


def model_digest(model: Model) -> str:
    """Ten hexadecimal digits of the SHA-256 of everything in the model but its places in the text."""
    digest = hashlib.sha256()
    for piece in _pieces(model):
        digest.update(piece.encode("utf-8"))
        digest.update(b"\0")
    return digest.hexdigest()[:LENGTH]


def _pieces(value: object) -> Iterator[str]:
    if isinstance(value, Enum):
        yield value.name
    elif is_dataclass(value) and not isinstance(value, type):
        yield type(value).__name__
        for name in _names(type(value)):
            yield name
            yield from _pieces(getattr(value, name))
    elif isinstance(value, Mapping):
        for key in sorted(value, key=str):
            yield str(key)
            yield from _pieces(value[key])
    elif isinstance(value, tuple | list):
        yield f"({len(value)}"
        for entry in value:
            yield from _pieces(entry)
    elif isinstance(value, frozenset | set):
        yield from sorted(str(entry) for entry in value)
    else:
        yield repr(value) if not isinstance(value, str) else value


@cache
def _names(kind: type) -> tuple[str, ...]:
    names = (field.name for field in fields(kind))
    return tuple(name for name in names if name not in PLACES and name != "span" and not name.endswith("_span"))
