"""The one-line diagram: one PDF of all sheets, and each sheet as SVG and DXF."""

from __future__ import annotations

from collections.abc import Mapping

from fedfrom.documents.registry import Output
from fedfrom.rules.registry import Design


def write(design: Design) -> Mapping[str, bytes]:
    from fedfrom.drawing.dxf import write_dxf
    from fedfrom.drawing.one_line import one_line
    from fedfrom.drawing.pdf import write_pdf
    from fedfrom.drawing.svg import write_svg

    drawing = one_line(design.results, design.network, design.plan)
    if not drawing.sheets:
        return {}
    files = {"one-line.pdf": write_pdf(drawing)}
    for number, sheet in enumerate(drawing.sheets, 1):
        files[f"one-line-{number}.svg"] = write_svg(sheet)
        files[f"one-line-{number}.dxf"] = write_dxf(sheet)
    return files


OUTPUT = Output(
    "one-line", "One-line diagram (PDF, SVG, DXF)", ("one-line.pdf", "one-line-*.svg", "one-line-*.dxf"), write
)
