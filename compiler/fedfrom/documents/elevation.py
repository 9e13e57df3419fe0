"""Front elevations of line-ups: one PDF of all sheets, and each sheet as SVG and DXF."""

from __future__ import annotations

from collections.abc import Mapping

from fedfrom.documents.registry import Output
from fedfrom.rules.registry import Design


def write(design: Design) -> Mapping[str, bytes]:
    from fedfrom.documents.drawing_files import drawing_files
    from fedfrom.drawing.elevation import elevations

    return drawing_files(elevations(design.results))


OUTPUT = Output(
    "elevation",
    "Front elevations of switchboards and motor control centers (PDF, SVG, DXF)",
    ("elevation.pdf", "elevation-*.svg", "elevation-*.dxf"),
    write,
)
