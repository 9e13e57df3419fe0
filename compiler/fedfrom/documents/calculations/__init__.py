"""The calculation book: every number with its derivation, in the order of the tree."""

from __future__ import annotations

from collections.abc import Mapping

from fedfrom.documents.registry import Output
from fedfrom.rules.registry import Design


def write(design: Design) -> Mapping[str, bytes]:
    from fedfrom.documents.calculations.book import chapters
    from fedfrom.documents.calculations.markdown import book_markdown
    from fedfrom.documents.calculations.pdf import book_pdf

    found = chapters(design)
    if not found:
        return {}
    return {"calculations.md": book_markdown(design, found).encode(), "calculations.pdf": book_pdf(design, found)}


OUTPUT = Output("calculations", "Calculation book (PDF, Markdown)", ("calculations.md", "calculations.pdf"), write)
