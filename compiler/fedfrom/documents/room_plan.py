"""Plans of the electrical rooms: one PDF of all sheets, and each sheet as SVG and DXF."""

from __future__ import annotations

from collections.abc import Mapping

from fedfrom.documents.registry import Output
from fedfrom.rules.registry import Design


def write(design: Design) -> Mapping[str, bytes]:
    from fedfrom.documents.drawing_files import drawing_files
    from fedfrom.drawing.room_plan import room_plans

    return drawing_files(room_plans(design.results))


OUTPUT = Output(
    "rooms", "Plans of the electrical rooms with working space (PDF, SVG, DXF)",
    ("rooms.pdf", "rooms-*.svg", "rooms-*.dxf"), write,
)  # fmt: skip
