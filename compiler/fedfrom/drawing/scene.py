"""The neutral scene: lines, arcs, text and groups, in inches on paper, x right, y down, origin at the sheet's top left.

Placement makes it, writers (SVG, PDF, DXF) only write it. All black; weight and layer by role.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

Point: TypeAlias = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Stroke:
    """How a line is drawn: `weight_mm` on paper, `dash` in inches (on, off, …) or (), `layer` a key of `LAYERS`."""

    weight_mm: float
    dash: tuple[float, ...]
    layer: str


@dataclass(frozen=True, slots=True)
class Polyline:
    """Straight segments through `points`; closed and filled as said."""

    points: tuple[Point, ...]
    stroke: Stroke
    closed: bool = False
    filled: bool = False


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle, filled or not."""

    center: Point
    radius: float
    stroke: Stroke
    filled: bool = False


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc from `start_deg` to `end_deg`, clockwise on paper from the +x axis (y is down)."""

    center: Point
    radius: float
    start_deg: float
    end_deg: float
    stroke: Stroke


@dataclass(frozen=True, slots=True)
class Label:
    """One line of text. `height` is the cap height in inches, `width` the measured width that every writer enforces.

    `anchor` "start", "middle" or "end" at `at` (the baseline point); `turn` 0 or 90 (reads from the right side).
    """

    at: Point
    text: str
    height: float
    width: float
    bold: bool = False
    anchor: str = "start"
    turn: int = 0
    layer: str = "text"


@dataclass(frozen=True, slots=True)
class Group:
    """Shapes with local coordinates at `at`. `id` from a tag ("" for none), `kind` for readers ("feeder", "bus" …).

    `symbol` names a symbol of the library (a DXF BLOCK); then `attributes` are its block attributes (tag, rating).
    """

    at: Point
    shapes: tuple[Shape, ...]
    id: str = ""
    kind: str = ""
    symbol: str = ""
    attributes: tuple[tuple[str, str], ...] = ()


Shape: TypeAlias = Polyline | Circle | Arc | Label | Group


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: number ("E-601"), title, paper size in inches, and its shapes."""

    number: str
    title: str
    width: float
    height: float
    shapes: tuple[Shape, ...]


@dataclass(frozen=True, slots=True)
class Drawing:
    """A set of sheets, in order. `name` is the file stem ("one-line")."""

    name: str
    title: str
    sheets: tuple[Sheet, ...]
