"""The one-line diagram: one PDF of all sheets, and each sheet as SVG and DXF."""

from __future__ import annotations

from collections.abc import Mapping

from fedfrom.documents.drawing_files import drawing_files
from fedfrom.documents.registry import Output
from fedfrom.rules.registry import Design


def write(design: Design) -> Mapping[str, bytes]:
    from fedfrom.drawing.one_line import one_line

    return drawing_files(one_line(design.results, design.network, design.plan))


OUTPUT = Output(
    "one-line", "One-line diagram (PDF, SVG, DXF)", ("one-line.pdf", "one-line-*.svg", "one-line-*.dxf"), write
)
