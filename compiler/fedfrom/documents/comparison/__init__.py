"""The comparison sheet: load center, panelboard and switchboard held against each other for each piece of gear."""

from __future__ import annotations

from collections.abc import Mapping

from fedfrom.documents.registry import Output
from fedfrom.rules.registry import Design


def write(design: Design) -> Mapping[str, bytes]:
    from fedfrom.documents.comparison.view import comparison
    from fedfrom.documents.comparison.write import comparison_markdown, comparison_pdf

    view = comparison(design)
    if not view.choices and not view.briefs:
        return {}
    return {"comparison.md": comparison_markdown(view).encode(), "comparison.pdf": comparison_pdf(view)}


OUTPUT = Output(
    "comparison", "Gear classes compared (PDF, Markdown)", ("comparison.md", "comparison.pdf"), write
)  # fmt: skip
