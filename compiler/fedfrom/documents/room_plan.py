"""Plans of the electrical rooms."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fedfrom.documents.drawing_files import drawing_output
from fedfrom.rules.registry import Design

if TYPE_CHECKING:
    from fedfrom.drawing.scene import Drawing


def draw(design: Design) -> Drawing:
    from fedfrom.drawing.room_plan import room_plans

    return room_plans(design.results)


OUTPUT = drawing_output("rooms", "Plans of the electrical rooms with working space", draw)
