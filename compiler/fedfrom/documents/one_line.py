"""The one-line diagram."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fedfrom.documents.drawing_files import drawing_output
from fedfrom.rules.registry import Design

if TYPE_CHECKING:
    from fedfrom.drawing.scene import Drawing


def draw(design: Design) -> Drawing:
    from fedfrom.drawing.one_line import one_line

    return one_line(design.results, design.network, design.plan, design.model.interlocks)


OUTPUT = drawing_output("one-line", "One-line diagram", draw)
