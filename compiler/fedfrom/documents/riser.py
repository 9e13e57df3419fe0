"""The riser diagram: one PDF, and each sheet as SVG and DXF; nothing where fewer than two storeys are known."""

from __future__ import annotations

from collections.abc import Mapping

from fedfrom.documents.drawing_files import drawing_files
from fedfrom.documents.registry import Output
from fedfrom.rules.registry import Design


def write(design: Design) -> Mapping[str, bytes]:
    from fedfrom.drawing.riser_diagram import riser_diagram

    return drawing_files(riser_diagram(design.results, design.network, design.model))


OUTPUT = Output("riser", "Riser diagram (PDF, SVG, DXF)", ("riser.pdf", "riser-*.svg", "riser-*.dxf"), write)
