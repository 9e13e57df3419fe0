"""Symbols of devices in a wire: input at (0, 0), output at (0, height), y down, inches.

Forms after IEEE Std 315 / ANSI Y32.2 (which lets its symbols be copied freely); the geometry is ours and the forms are
from memory, not checked figure by figure. A symbol is a `Group` whose `symbol` is its name in the legend.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fedfrom.drawing.scene import Arc, Circle, Group, Point, Polyline, Shape, Stroke
from fedfrom.drawing.shapes import label, line, rectangle
from fedfrom.drawing.style import BUBBLE_TEXT, Pen

DOT = 0.018
Attributes = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Inline:
    """A symbol in a vertical wire: its shapes, its height, how far it reaches to the left of the wire."""

    group: Group
    height: float


def dot(x: float, y: float, stroke: Stroke, radius: float = DOT) -> Circle:
    """A filled dot: a contact, or a junction of wires."""
    return Circle((x, y), radius, stroke, filled=True)


def named(name: str, shapes: Sequence[Shape], attributes: Attributes = (), at: Point = (0.0, 0.0)) -> Group:
    """A symbol of the library at a place."""
    return Group(at, tuple(shapes), kind="symbol", symbol=name, attributes=attributes)


def _contact_arc(top: float, bottom: float, stroke: Stroke) -> tuple[Shape, ...]:
    """Two contacts with the arc of an air circuit breaker, bulging left so that text can stand on the right."""
    middle = (top + bottom) / 2
    radius = 0.19
    half = (bottom - top) / 2
    reach = round((radius**2 - half**2) ** 0.5, 4)
    spread = _degrees(half / radius)
    return (
        dot(0, top, stroke),
        dot(0, bottom, stroke),
        Arc((reach, middle), radius, 180 - spread, 180 + spread, stroke),
    )


def _degrees(sine: float) -> float:
    from math import asin, degrees

    return round(degrees(asin(sine)), 2)


def breaker(pen: Pen, attributes: Attributes = ()) -> Inline:
    """A low-voltage circuit breaker, fixed."""
    shapes = (
        line(0, 0, 0, 0.10, pen.symbol),
        *_contact_arc(0.10, 0.40, pen.symbol),
        line(0, 0.40, 0, 0.50, pen.symbol),
    )
    return Inline(named("breaker", shapes, attributes), 0.50)


def drawout_breaker(pen: Pen, attributes: Attributes = ()) -> Inline:
    """A draw-out circuit breaker: a pair of chevrons at either end stands for the disconnecting contacts."""
    shapes: list[Shape] = [*_contact_arc(0.18, 0.42, pen.symbol)]
    for apex in (0.04, 0.085):
        shapes.append(Polyline(((-0.06, apex + 0.045), (0, apex), (0.06, apex + 0.045)), pen.symbol))
        low = 0.60 - apex
        shapes.append(Polyline(((-0.06, low - 0.045), (0, low), (0.06, low - 0.045)), pen.symbol))
    shapes += [line(0, 0, 0, 0.04, pen.symbol), line(0, 0.085, 0, 0.18, pen.symbol)]
    shapes += [line(0, 0.42, 0, 0.515, pen.symbol), line(0, 0.56, 0, 0.60, pen.symbol)]
    return Inline(named("drawout-breaker", shapes, attributes), 0.60)


def switch(pen: Pen, attributes: Attributes = ()) -> Inline:
    """A switch without fuses, drawn open."""
    shapes = (
        line(0, 0, 0, 0.10, pen.symbol),
        dot(0, 0.10, pen.symbol),
        line(0, 0.38, -0.16, 0.12, pen.symbol),
        line(0, 0.38, 0, 0.50, pen.symbol),
    )
    return Inline(named("switch", shapes, attributes), 0.50)


def fused_switch(pen: Pen, attributes: Attributes = (), name: str = "fused-switch") -> Inline:
    """A fusible switch: blade and fuse in one unit."""
    shapes = (
        line(0, 0, 0, 0.08, pen.symbol),
        dot(0, 0.08, pen.symbol),
        line(0, 0.21, -0.11, 0.06, pen.symbol),
        line(0, 0.21, 0, 0.50, pen.symbol),
        rectangle(-0.045, 0.25, 0.045, 0.45, pen.symbol),
    )
    return Inline(named(name, shapes, attributes), 0.50)


def bolted_pressure_switch(pen: Pen, attributes: Attributes = ()) -> Inline:
    """A fusible switch whose contacts are bolted: the fused switch with a bar across the contact."""
    base = fused_switch(pen, attributes, "bolted-pressure-switch")
    bar = line(-0.06, 0.045, 0.06, 0.045, pen.symbol)
    return Inline(named("bolted-pressure-switch", (*base.group.shapes, bar), attributes), base.height)


def fuse(pen: Pen, attributes: Attributes = ()) -> Inline:
    """A fuse alone."""
    shapes = (line(0, 0, 0, 0.50, pen.symbol), rectangle(-0.05, 0.13, 0.05, 0.37, pen.symbol))
    return Inline(named("fuse", shapes, attributes), 0.50)


def contactor(pen: Pen) -> Inline:
    """The main contacts of a contactor."""
    shapes = (
        line(0, 0, 0, 0.09, pen.symbol),
        line(-0.08, 0.09, 0.08, 0.09, pen.symbol),
        line(-0.08, 0.16, 0.08, 0.16, pen.symbol),
        line(0, 0.16, 0, 0.26, pen.symbol),
    )
    return Inline(named("contactor", shapes), 0.26)


def overload(pen: Pen) -> Inline:
    """The overload relay of a motor starter."""
    points = ((0.0, 0.0), (0.0, 0.06), (0.07, 0.06), (0.07, 0.17), (0.0, 0.17), (0.0, 0.24))
    return Inline(named("overload", (Polyline(points, pen.symbol),)), 0.24)


def _boxed(name: str, letters: str, pen: Pen, half: float) -> Inline:
    shapes = (
        line(0, 0, 0, 0.06, pen.symbol),
        rectangle(-half, 0.06, half, 0.28, pen.symbol),
        label(letters, (0, 0.17 + BUBBLE_TEXT / 2), BUBBLE_TEXT, anchor="middle"),
        line(0, 0.28, 0, 0.34, pen.symbol),
    )
    return Inline(named(name, shapes), 0.34)


def drive(pen: Pen) -> Inline:
    """An adjustable-frequency drive."""
    return _boxed("drive", "VFD", pen, 0.20)


def soft_starter(pen: Pen) -> Inline:
    """A solid-state reduced-voltage starter."""
    return _boxed("soft-starter", "SSRV", pen, 0.22)


def _bubble(name: str, letters: str, pen: Pen, radius: float) -> Inline:
    """A current transformer with a lead to a circle of letters, right of the wire."""
    center = 0.22 + radius
    shapes: tuple[Shape, ...] = (
        line(0, 0, 0, 0.36, pen.symbol),
        Arc((0.0, 0.14), 0.04, -90, 90, pen.symbol),
        Arc((0.0, 0.22), 0.04, -90, 90, pen.symbol),
        line(0.04, 0.18, 0.22, 0.18, pen.thin),
        Circle((center, 0.18), radius, pen.symbol),
        label(letters, (center, 0.18 + BUBBLE_TEXT / 2), BUBBLE_TEXT, anchor="middle"),
    )
    return Inline(named(name, shapes), 0.36)


def meter(pen: Pen) -> Inline:
    """A meter on current transformers."""
    return _bubble("meter", "M", pen, 0.12)


def ground_fault_relay(pen: Pen) -> Inline:
    """Ground-fault protection: device number 51G of IEEE C37.2 (time overcurrent, ground)."""
    return _bubble("ground-fault-relay", "51G", pen, 0.155)


DEVICES: dict[str, Callable[[Pen, Attributes], Inline]] = {
    "breaker": breaker,
    "fused switch": fused_switch,
    "bolted-pressure switch": bolted_pressure_switch,
    "switch": switch,
    "fuse": fuse,
}
"""Device kinds of the language -> symbols; a new kind of device is one entry here and one line in the legend words."""


def device_symbol(kind: str, options: Sequence[str], pen: Pen, attributes: Attributes = ()) -> Inline:
    """The symbol of an overcurrent or switching device. An unknown kind is drawn as a switch, its kind in the text."""
    if kind == "breaker" and "drawout" in options:
        return drawout_breaker(pen, attributes)
    return DEVICES.get(kind, switch)(pen, attributes)
