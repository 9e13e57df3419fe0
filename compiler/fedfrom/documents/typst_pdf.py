"""Typst as the one way to a PDF: fixed layout files that get data as JSON, the shipped font, no date, no tags."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from datetime import UTC, datetime
from functools import cache
from importlib.resources import as_file, files
from typing import TYPE_CHECKING, Any

from fedfrom.documents.registry import DOCUMENT_EPOCH
from fedfrom.documents.template import template_text

if TYPE_CHECKING:
    import typst


def compile_pdf(layouts: Sequence[str], data: Any, *, tags: bool = False) -> bytes:
    """The PDF of layout files of `templates/` (joined in order) with `data` for them.

    `tags` adds the structure that screen readers use (for documents of running text; it makes sheets far larger).
    Only the shipped font and typst's own are used, so that the bytes are the same on every machine.
    """
    import typst

    source = "\n".join(template_text(name) for name in layouts)
    text = json.dumps(softened(data), ensure_ascii=False, sort_keys=True)
    return typst.compile(
        source.encode(),
        format="pdf",
        font_paths=_fonts(),
        ignore_system_fonts=True,
        sys_inputs={"data": text},
        timestamp=datetime(*DOCUMENT_EPOCH, tzinfo=UTC),
        pdf_tags=tags,
    )


# A word longer than this may have to be broken in a narrow cell.
LONGEST_WORD = 11
_BREAKS = re.compile(r"([-/_.,])(?=\S)")
_LONG = re.compile(rf"\S{{{LONGEST_WORD + 1},}}")


def softened(data: Any) -> Any:
    """The data with places to break (spaces of no width) in long words, after hyphen, slash, comma, dot, underscore."""
    if isinstance(data, str):
        return _LONG.sub(lambda word: _BREAKS.sub("\\1\u200b", word[0]), data) if len(data) > LONGEST_WORD else data
    if isinstance(data, dict):
        return {key: softened(value) for key, value in data.items()}
    return [softened(value) for value in data] if isinstance(data, list | tuple) else data


@cache
def _fonts() -> typst.Fonts:
    import typst

    with as_file(files("fedfrom.drawing") / "fonts") as folder:
        return typst.Fonts(include_system_fonts=False, font_paths=[folder])
