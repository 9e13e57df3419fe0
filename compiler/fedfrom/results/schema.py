"""The public form of the results: its version and its JSON Schema."""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any

# Rises by one when a name is removed or its meaning changes; added names keep it.
SCHEMA_VERSION = 1


def load_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of `results.json`, with units in the descriptions."""
    text = (files("fedfrom.results") / "results.schema.json").read_text(encoding="utf-8")
    schema: dict[str, Any] = json.loads(text)
    return schema
