"""The comparison sheet as Markdown and as PDF, from one view."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from fedfrom.documents.comparison.view import Comparison
from fedfrom.documents.template import template_text
from fedfrom.documents.typst_pdf import compile_pdf


def comparison_markdown(view: Comparison) -> str:
    """The document as Markdown."""
    import jinja2

    from fedfrom.documents.specification.markdown import escape

    environment = jinja2.Environment(trim_blocks=True, lstrip_blocks=True, undefined=jinja2.StrictUndefined)
    environment.filters["md"] = lambda text: escape(" ".join(str(text).split()))
    return environment.from_string(template_text("comparison/comparison.md.j2")).render(view=view)


def comparison_pdf(view: Comparison) -> bytes:
    """The document as PDF."""
    data: dict[str, Any] = asdict(view)
    return compile_pdf(["comparison/comparison.typ"], data, tags=True)
