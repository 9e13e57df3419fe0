"""Front elevations of line-ups."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fedfrom.documents.drawing_files import drawing_output
from fedfrom.rules.registry import Design

if TYPE_CHECKING:
    from fedfrom.drawing.scene import Drawing


def draw(design: Design) -> Drawing:
    from fedfrom.drawing.elevation import elevations

    return elevations(design.results)


OUTPUT = drawing_output("elevation", "Front elevations of switchboards and motor control centers", draw)
