"""The riser diagram; nothing where fewer than two storeys are known."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fedfrom.documents.drawing_files import drawing_output
from fedfrom.rules.registry import Design

if TYPE_CHECKING:
    from fedfrom.drawing.scene import Drawing


def draw(design: Design) -> Drawing:
    from fedfrom.drawing.riser_diagram import riser_diagram

    return riser_diagram(design.results, design.network, design.model)


OUTPUT = drawing_output("riser", "Riser diagram", draw)
