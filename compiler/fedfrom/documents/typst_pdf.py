"""Typst as the one way to a PDF: fixed layout files that get data as JSON, the shipped font, no date, no tags."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import UTC, datetime
from importlib.resources import as_file, files
from typing import Any

from fedfrom.documents.registry import DOCUMENT_EPOCH


def compile_pdf(layouts: Sequence[str], data: Any) -> bytes:
    """The PDF of layout files of `templates/` (joined in order) with `data` for them.

    Only the shipped font and typst's own are used, so that the bytes are the same on every machine.
    """
    import typst

    templates = files("fedfrom.templates")
    source = "\n".join(templates.joinpath(name).read_text(encoding="utf-8") for name in layouts)
    text = json.dumps(data, ensure_ascii=False, sort_keys=True)
    with as_file(files("fedfrom.drawing") / "fonts") as fonts:
        result: bytes = typst.compile(
            source.encode(),
            format="pdf",
            font_paths=[str(fonts)],
            ignore_system_fonts=True,
            sys_inputs={"data": text},
            timestamp=datetime(*DOCUMENT_EPOCH, tzinfo=UTC),
            pdf_tags=False,
        )
    return result
