"""Typst as the one way to a PDF: fixed layout files that get data as JSON, the shipped font, no date, no tags."""

from __future__ import annotations

import json
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
    text = json.dumps(data, ensure_ascii=False, sort_keys=True)
    return typst.compile(
        source.encode(),
        format="pdf",
        font_paths=_fonts(),
        ignore_system_fonts=True,
        sys_inputs={"data": text},
        timestamp=datetime(*DOCUMENT_EPOCH, tzinfo=UTC),
        pdf_tags=tags,
    )


@cache
def _fonts() -> typst.Fonts:
    import typst

    with as_file(files("fedfrom.drawing") / "fonts") as folder:
        return typst.Fonts(include_system_fonts=False, font_paths=[folder])
