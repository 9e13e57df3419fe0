"""Labels to print for the gear, panel directory cards, and the list of all of them with the clause of each."""

from __future__ import annotations

from collections.abc import Mapping

from fedfrom.documents.registry import Output
from fedfrom.rules.registry import Design


def write(design: Design) -> Mapping[str, bytes]:
    from fedfrom.documents.labels.directory import directory_cards
    from fedfrom.documents.labels.view import labels
    from fedfrom.documents.labels.write import labels_csv, labels_pdf

    found = labels(design)
    cards = directory_cards(design)
    if not found and not cards:
        return {}
    return {"labels.csv": labels_csv(found, cards), "labels.pdf": labels_pdf(design, found, cards)}


OUTPUT = Output("labels", "Labels and panel directories (PDF, CSV)", ("labels.pdf", "labels.csv"), write)
