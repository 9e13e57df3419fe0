"""The HTML book: one self-contained file for a reviewer, with the drawing that answers clicks."""

from __future__ import annotations

from collections.abc import Mapping

from fedfrom.documents.registry import Output
from fedfrom.rules.registry import Design


def write(design: Design) -> Mapping[str, bytes]:
    from fedfrom.documents.book.page import book_html

    return {"book.html": book_html(design).encode()}


OUTPUT = Output("book", "Book for the reviewer (HTML)", ("book.html",), write)
