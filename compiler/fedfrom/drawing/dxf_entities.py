"""DXF entities as text (R2010 group codes), for drawings of thousands of them.

The document around them (header, tables, objects) is made by ezdxf; entities are simple enough to be written straight.
Points are already in the drawing's coordinates, y up.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

Point2 = tuple[float, float]
FIRST_HANDLE = 0x10000
"""Above every handle that the document around the entities takes."""
OWNER = "<owner>"
FIT = 5
"""Horizontal justification "fit": the text is stretched between its two points."""


@dataclass(slots=True)
class Handles:
    """Handles in order; one counter for the whole file."""

    next: int = FIRST_HANDLE

    def take(self) -> str:
        self.next += 1
        return f"{self.next - 1:X}"


@dataclass(slots=True)
class Entities:
    """Entities of one block or of model space. The handle of their owner is put in when the document is known."""

    handles: Handles
    out: list[str] = field(default_factory=list)

    def owned_by(self, handle: str) -> str:
        """All entities as text."""
        return "".join(self.out).replace(f"330\n{OWNER}\n", f"330\n{handle}\n")

    def line(self, start: Point2, end: Point2, look: str) -> None:
        head = self._head("LINE", look)
        self.out.append(f"{head}100\nAcDbLine\n{_point(start)}{_point(end, 1)}")

    def polyline(self, points: Sequence[Point2], closed: bool, look: str) -> None:
        head = self._head("LWPOLYLINE", look)
        places = "".join(f" 10\n{x!r}\n 20\n{y!r}\n" for x, y in points)
        self.out.append(f"{head}100\nAcDbPolyline\n 90\n{len(points)}\n 70\n{int(closed)}\n{places}")

    def circle(self, center: Point2, radius: float, look: str) -> None:
        head = self._head("CIRCLE", look)
        self.out.append(f"{head}100\nAcDbCircle\n{_point(center)} 40\n{radius!r}\n")

    def disc(self, center: Point2, radius: float, look: str) -> None:
        """A filled circle: a closed line of two half turns, as wide as its radius."""
        head = self._head("LWPOLYLINE", look)
        x, y = center
        half = round(radius / 2, 5)
        ends = "".join(f" 10\n{round(x + side * half, 5)!r}\n 20\n{y!r}\n 42\n1.0\n" for side in (-1, 1))
        self.out.append(f"{head}100\nAcDbPolyline\n 90\n2\n 70\n1\n 43\n{radius!r}\n{ends}")

    def arc(self, center: Point2, radius: float, start_deg: float, end_deg: float, look: str) -> None:
        head = self._head("ARC", look)
        turn = f"100\nAcDbArc\n 50\n{start_deg!r}\n 51\n{end_deg!r}\n"
        self.out.append(f"{head}100\nAcDbCircle\n{_point(center)} 40\n{radius!r}\n{turn}")

    def text(self, text: str, start: Point2, end: Point2, height: float, style: str, layer: str) -> None:
        head = self._head("TEXT", f"  8\n{layer}\n")
        self.out.append(f"{head}{_words(text, start, end, height, style)}100\nAcDbText\n")

    def attribute_place(self, tag: str, at: Point2, height: float, style: str, layer: str, hidden: bool) -> None:
        """What a block says of an attribute of its references (ATTDEF)."""
        head = self._head("ATTDEF", f"  8\n{layer}\n")
        words = f"100\nAcDbText\n{_point(at)} 40\n{height!r}\n  1\n\n  7\n{style}\n"
        self.out.append(f"{head}{words}100\nAcDbAttributeDefinition\n  3\n\n  2\n{tag}\n 70\n{int(hidden)}\n")

    def reference(self, name: str, at: Point2, layer: str, attributes: Sequence[Attribute]) -> None:
        """A reference to a block with its attributes."""
        head = self._head("INSERT", f"  8\n{layer}\n")
        handle = f"{self.handles.next - 1:X}"
        follow = " 66\n1\n" if attributes else ""
        self.out.append(f"{head}100\nAcDbBlockReference\n{follow}  2\n{name}\n{_point(at)}")
        for each in attributes:
            own = f"  0\nATTRIB\n  5\n{self.handles.take()}\n330\n{handle}\n100\nAcDbEntity\n  8\n{each.layer}\n"
            words = _words(each.text, each.start, each.end, each.height, each.style)
            self.out.append(f"{own}{words}100\nAcDbAttribute\n  2\n{each.tag}\n 70\n{int(each.hidden)}\n")
        if attributes:
            end = f"  0\nSEQEND\n  5\n{self.handles.take()}\n330\n{handle}\n100\nAcDbEntity\n  8\n{layer}\n"
            self.out.append(end)

    def _head(self, kind: str, look: str) -> str:
        return f"  0\n{kind}\n  5\n{self.handles.take()}\n330\n{OWNER}\n100\nAcDbEntity\n{look}"


@dataclass(frozen=True, slots=True)
class Attribute:
    """A text that belongs to a block reference, fitted between two points (`end` None: it just starts at `start`)."""

    tag: str
    text: str
    start: Point2
    end: Point2 | None
    height: float
    style: str
    layer: str
    hidden: bool = False


def look_of(layer: str, linetype: str, weight: int) -> str:
    """Layer, line type and lineweight (hundredths of a millimetre) as group codes."""
    return f"  8\n{layer}\n  6\n{linetype}\n370\n{weight}\n"


def _words(text: str, start: Point2, end: Point2 | None, height: float, style: str) -> str:
    base = f"100\nAcDbText\n{_point(start)} 40\n{height!r}\n  1\n{text}\n"
    if end is None:
        return f"{base}  7\n{style}\n"
    turned = " 50\n90.0\n" if abs(end[0] - start[0]) < abs(end[1] - start[1]) else ""
    return f"{base}{turned}  7\n{style}\n 72\n{FIT}\n{_point(end, 1)}"


def _point(point: Point2, number: int = 0) -> str:
    return f" 1{number}\n{point[0]!r}\n 2{number}\n{point[1]!r}\n 3{number}\n0.0\n"
