"""The grounding diagram."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fedfrom.documents.drawing_files import drawing_output
from fedfrom.rules.registry import Design

if TYPE_CHECKING:
    from fedfrom.drawing.scene import Drawing


def draw(design: Design) -> Drawing:
    from fedfrom.drawing.grounding_diagram import grounding_diagram

    return grounding_diagram(design.results, design.network, design.edition.clause)


OUTPUT = drawing_output("grounding", "Grounding diagram", draw)
