"""The list of labels as CSV, and the printable sheets as PDF."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import asdict

from fedfrom.documents.labels.label import Card, Label
from fedfrom.documents.typst_pdf import compile_pdf
from fedfrom.documents.words import CAUTION_TEXT
from fedfrom.rules.registry import Design

HEADS = ("label", "equipment", "place", "clause", "signal word", "text", "size", "quantity", "status", "needs", "note")


def labels_csv(labels: Sequence[Label], cards: Sequence[Card]) -> bytes:
    """One row a label, one a directory card; the lines of a label are joined by " / ". UTF-8, CR LF (RFC 4180)."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(HEADS)
    for each in labels:
        text = " / ".join(each.lines)
        row = (each.kind, each.tag, each.place, each.clause, each.heading, text, each.size, str(each.quantity),
               each.status, each.needs, each.note)  # fmt: skip
        writer.writerow([_safe(cell) for cell in row])
    for card in cards:
        text = " / ".join(f"{positions} {purpose}" for positions, purpose in card.lines)
        row = ("directory card", card.tag, card.place, card.clause, "", text, "card", "1", "", "", "")
        writer.writerow([_safe(cell) for cell in row])
    return out.getvalue().encode()


def _safe(cell: str) -> str:
    """A text that a spreadsheet would take for a formula gets an apostrophe before it."""
    return f"'{cell}" if cell[:1] in {"=", "+", "-", "@"} else cell


def labels_pdf(design: Design, labels: Sequence[Label], cards: Sequence[Card]) -> bytes:
    """Sheets of labels by size, then the directory cards, then the list of what could not be printed."""
    info = design.results.project
    sizes = list(dict.fromkeys(each.size for each in labels))
    data = {
        "project": info.title or "Project not named",
        "number": info.number,
        "caution": CAUTION_TEXT,
        "sizes": [
            {"size": size, "labels": [asdict(each) for each in labels if each.size == size and not each.needs]}
            for size in sizes
        ],
        "open": [asdict(each) for each in labels if each.needs],
        "cards": [asdict(card) for card in cards],
    }
    return compile_pdf(["labels/labels.typ"], data)
