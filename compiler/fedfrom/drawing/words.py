"""Words of drawings, from `templates/drawing/words.toml`."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import lru_cache
from importlib import resources


@lru_cache(maxsize=1)
def _all() -> dict[str, dict[str, str]]:
    text = resources.files("fedfrom.templates").joinpath("drawing/words.toml").read_text(encoding="utf-8")
    loaded: dict[str, dict[str, str]] = tomllib.loads(text)
    return loaded


def words(section: str) -> Mapping[str, str]:
    """The words of one section, in the order of the file. Raises KeyError for an unknown section."""
    return _all()[section]
