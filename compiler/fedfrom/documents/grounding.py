"""The grounding diagram: one PDF, and each sheet as SVG and DXF."""

from __future__ import annotations

from collections.abc import Mapping

from fedfrom.documents.drawing_files import drawing_files
from fedfrom.documents.registry import Output
from fedfrom.rules.registry import Design


def write(design: Design) -> Mapping[str, bytes]:
    from fedfrom.drawing.grounding_diagram import grounding_diagram

    return drawing_files(grounding_diagram(design.results, design.network, design.edition.clause))


OUTPUT = Output(
    "grounding", "Grounding diagram (PDF, SVG, DXF)", ("grounding.pdf", "grounding-*.svg", "grounding-*.dxf"), write
)
