"""Outputs that are drawings: one PDF of all sheets, and each sheet as SVG and DXF."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import TYPE_CHECKING

from fedfrom.documents.registry import Output
from fedfrom.rules.registry import Design

if TYPE_CHECKING:
    from fedfrom.drawing.scene import Drawing

_LAST: dict[str, tuple[Design, Drawing]] = {}


def drawing_output(name: str, title: str, draw: Callable[[Design], Drawing]) -> Output:
    """The output of a drawing whose files are called `name`."""
    return Output(
        name,
        f"{title} (PDF, SVG, DXF)",
        (f"{name}.pdf", f"{name}-*.svg", f"{name}-*.dxf"),
        partial(_write, name, draw),
        partial(_drawn, name, draw),
    )


def _drawn(name: str, draw: Callable[[Design], Drawing], design: Design) -> Drawing:
    """The drawing of a design; the last one is kept, because the index asks for every drawing too."""
    found = _LAST.get(name)
    if found is None or found[0] is not design:
        found = _LAST[name] = (design, draw(design))
    return found[1]


def _write(name: str, draw: Callable[[Design], Drawing], design: Design) -> Mapping[str, bytes]:
    return drawing_files(_drawn(name, draw, design))


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
