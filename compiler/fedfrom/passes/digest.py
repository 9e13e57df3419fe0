"""A short name for a design: the same for the same content, whatever the file, the place in it, or the time."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache

from fedfrom.model.items import Model

# Where something stands in the text is not part of the design.
PLACES = frozenset({"trail", "order", "index"})
LENGTH = 10


def model_digest(model: Model) -> str:
    """Ten hexadecimal digits of the SHA-256 of everything in the model but its places in the text."""
    pieces: list[str] = []
    _collect(model, pieces)
    return hashlib.sha256("\0".join(pieces).encode("utf-8")).hexdigest()[:LENGTH]


def _collect(value: object, pieces: list[str]) -> None:
    """The content of a value in a fixed order; what is None or empty adds nothing, its name is not there either."""
    if isinstance(value, str):
        pieces.append(value)
    elif isinstance(value, Enum):
        pieces.append(value.name)
    elif isinstance(value, Mapping):
        for key in sorted(value, key=str):
            pieces.append(str(key))
            _collect(value[key], pieces)
    elif isinstance(value, tuple | list):
        pieces.append(f"({len(value)}")
        for entry in value:
            _collect(entry, pieces)
    elif isinstance(value, frozenset | set):
        pieces.extend(sorted(str(entry) for entry in value))
    elif is_dataclass(value) and not isinstance(value, type):
        pieces.append(type(value).__name__)
        for name in _names(type(value)):
            inner = getattr(value, name)
            if inner is not None and inner != () and inner != "":
                pieces.append(name)
                _collect(inner, pieces)
    else:
        pieces.append(repr(value))


@cache
def _names(kind: type) -> tuple[str, ...]:
    names = (field.name for field in fields(kind))
    return tuple(name for name in names if name not in PLACES and name != "span" and not name.endswith("_span"))
