"""Line weights, line styles, layers and lettering heights of every drawing.

Weights follow ASME Y14.2 (two widths, thin at least 0.3 mm, thick at least 0.6 mm, about 1:2); the heavy bus is common
practice, no source. Monochrome: status is told apart by line style and by text, never by colour.
"""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.drawing.scene import Stroke
from fedfrom.model.items import Status

GRID = 0.05
"""Every trunk and slot lies on this grid, inches."""

TEXT = 0.10
"""Cap height of ordinary text, inches; `LINE_PITCH` keeps the space between lines above half a letter (ASME Y14.2)."""
LINE_PITCH = 0.155
NOTE_TEXT = 0.09
NOTE_PITCH = 0.14
TAG_TEXT = 0.08
BUBBLE_TEXT = 0.08
TITLE_TEXT = 0.14
NUMBER_TEXT = 0.45
CAPTION_TEXT = 0.06

_DASHES = {
    Status.NEW: (),
    Status.EXISTING: (0.22, 0.04),
    Status.RELOCATED: (0.22, 0.04, 0.04, 0.04),
    Status.FUTURE: (0.05, 0.05),
    Status.DEMOLISH: (),
}

STATUS_MARKS = {
    Status.NEW: "",
    Status.EXISTING: "(E)",
    Status.RELOCATED: "(R)",
    Status.FUTURE: "(F)",
    Status.DEMOLISH: "(D)",
}
"""The letter behind the name of a thing that is not new; explained in the legend."""

_LAYER_STATUS = {
    Status.NEW: "",
    Status.EXISTING: "existing",
    Status.RELOCATED: "relocated",
    Status.FUTURE: "future",
    Status.DEMOLISH: "demolish",
}

# Discipline-major-minor after the National CAD Standard; the status field letters are its E, D, F and M (moved).
# That 1LIN is the listed major group for one-line diagrams is from memory.
_LAYER_NAMES = {
    "wire": "E-1LIN-WIRE",
    "bus": "E-1LIN-BUSS",
    "symbol": "E-1LIN-SYMB",
    "enclosure": "E-1LIN-ENCL",
    "text": "E-1LIN-TEXT",
    "reference": "E-1LIN-REFR",
    "equipment": "E-POWR-EQPM",
}
_STATUS_LETTERS = {"": "", "existing": "-E", "demolish": "-D", "future": "-F", "relocated": "-M"}

LAYERS: dict[str, str] = (
    {
        (f"{key}-{status}" if status else key): f"{name}{letter}"
        for key, name in _LAYER_NAMES.items()
        for status, letter in _STATUS_LETTERS.items()
    }
    | {"frame": "E-ANNO-TTLB", "revision": "E-ANNO-REVC", "note": "E-ANNO-NOTE", "legend": "E-ANNO-LEGN"}
    | {
        "dimension": "E-ANNO-DIMS",
        "clearance": "E-POWR-CLRN",
        "wall": "A-WALL",
        "door": "A-DOOR",
    }
)
"""Layer keys of the scene -> layer names in CAD files."""


@dataclass(frozen=True, slots=True)
class Pen:
    """The strokes of one status: `wire`, `symbol`, `box` (equipment without drawn inside), `bus`, `thin` (leaders)."""

    wire: Stroke
    symbol: Stroke
    box: Stroke
    bus: Stroke
    thin: Stroke
    enclosure: Stroke


def _pen(status: Status) -> Pen:
    suffix = _LAYER_STATUS[status]
    tail = f"-{suffix}" if suffix else ""
    dash = _DASHES[status]
    light = status in (Status.EXISTING, Status.FUTURE)
    return Pen(
        wire=Stroke(0.30 if light else 0.35, dash, "wire" + tail),
        symbol=Stroke(0.30 if light else 0.35, (), "symbol" + tail),
        box=Stroke(0.30 if light else 0.50, dash, "symbol" + tail),
        bus=Stroke(0.80 if light else 1.40, dash, "bus" + tail),
        thin=Stroke(0.30, (), "symbol" + tail),
        enclosure=Stroke(0.30, (0.10, 0.06), "enclosure" + tail),
    )


_PENS = {status: _pen(status) for status in Status}


def pen(status: Status) -> Pen:
    """The strokes of a status."""
    return _PENS[status]


REFERENCE = Stroke(0.30, (), "reference")
FRAME_THICK = Stroke(0.80, (), "frame")
FRAME_THIN = Stroke(0.30, (), "frame")
"""Continuation flags and tag outlines; the sheet's border; the lines of the title strip."""


def up(value: float) -> float:
    """Up to the next multiple of `GRID`, inches."""
    steps = -(-round(value * 1e6) // round(GRID * 1e6))
    return round(steps * GRID, 6)


def snap(value: float) -> float:
    """To the nearest multiple of `GRID`, inches."""
    return round(round(value / GRID) * GRID, 6)
