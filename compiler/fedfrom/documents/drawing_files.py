"""The files of a drawing: one PDF of all sheets, and each sheet as SVG and DXF."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fedfrom.drawing.scene import Drawing


def drawing_files(drawing: Drawing) -> Mapping[str, bytes]:
    """Bytes by file name, nothing for a drawing without sheets."""
    from fedfrom.drawing.dxf import write_dxf
    from fedfrom.drawing.pdf import write_pdf
    from fedfrom.drawing.svg import write_svg

    if not drawing.sheets:
        return {}
    files = {f"{drawing.name}.pdf": write_pdf(drawing)}
    for number, sheet in enumerate(drawing.sheets, 1):
        files[f"{drawing.name}-{number}.svg"] = write_svg(sheet)
        files[f"{drawing.name}-{number}.dxf"] = write_dxf(sheet)
    return files
