"""`results.json`: everything that was computed, for programs."""

from __future__ import annotations

from collections.abc import Mapping

from fedfrom.documents.registry import Output
from fedfrom.results.to_json import results_bytes
from fedfrom.rules.registry import Design


def write(design: Design) -> Mapping[str, bytes]:
    return {"results.json": results_bytes(design.results, design.files)}


OUTPUT = Output("results", "Results for programs (JSON)", ("results.json",), write)
