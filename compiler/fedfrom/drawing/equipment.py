"""Symbols of equipment: sources, transformers, transfer switches, motors, grounds, tags and flags.

Connection at (0, 0), y down, inches. Forms after IEEE Std 315 (from memory); tag and flag shapes are our own.
"""

from __future__ import annotations

from collections.abc import Sequence

from fedfrom.drawing.lettering import measure, printable
from fedfrom.drawing.scene import Arc, Circle, Group, Polyline, Shape, Stroke
from fedfrom.drawing.shapes import label, line, rectangle, text_block, turned_block, widest
from fedfrom.drawing.style import BUBBLE_TEXT, LINE_PITCH, REFERENCE, TAG_TEXT, TEXT, Pen
from fedfrom.drawing.symbols import Attributes, Inline, named

TRANSFORMER_HEIGHT = 0.60
SOURCE_RADIUS = 0.22
MOTOR_RADIUS = 0.19
POLE_PITCH = 0.50
SWITCH_HEIGHT = 0.62
TAG_HEIGHT = 0.18
FLAG_TEXT = "FROM E-000 D8"
"""The widest text of a flag's second line; flags are sized by it before sheets and zones are known."""


def ground_bars(x: float, y: float, stroke: Stroke) -> tuple[Shape, ...]:
    """Three bars of a ground, the first at y."""
    halves = (0.07, 0.045, 0.02)
    return tuple(line(x - half, y + 0.025 * i, x + half, y + 0.025 * i, stroke) for i, half in enumerate(halves))


def ground(pen: Pen) -> Group:
    """A connection to ground under a wire of 0.12."""
    return named("ground", (line(0, 0, 0, 0.12, pen.symbol), *ground_bars(0, 0.12, pen.symbol)))


def surge_device(pen: Pen) -> Group:
    """A surge-protective device on a tap, with its ground."""
    shapes = (
        line(0, 0, 0, 0.12, pen.symbol),
        rectangle(-0.17, 0.12, 0.17, 0.30, pen.symbol),
        label("SPD", (0, 0.21 + BUBBLE_TEXT / 2), BUBBLE_TEXT, anchor="middle"),
        line(0, 0.30, 0, 0.36, pen.symbol),
        *ground_bars(0, 0.36, pen.symbol),
    )
    return named("surge-device", shapes)


def _winding_mark(kind: str, y: float, pen: Pen) -> tuple[Shape, ...]:
    """A delta or a grounded or ungrounded wye beside a winding, centred at x = -0.40."""
    x = -0.40
    if kind == "delta":
        return (Polyline(((x, y - 0.06), (x + 0.06, y + 0.045), (x - 0.06, y + 0.045)), pen.thin, closed=True),)
    if not kind.startswith("wye"):
        return ()
    arms: tuple[Shape, ...] = (
        line(x, y, x, y + 0.075, pen.thin),
        line(x, y, x - 0.065, y - 0.0375, pen.thin),
        line(x, y, x + 0.065, y - 0.0375, pen.thin),
    )
    if kind == "wye":
        return arms
    end = x - 0.19
    lead = Polyline(((x, y), (end, y), (end, y + 0.05)), pen.thin)
    return (*arms, lead, *ground_bars(end, y + 0.05, pen.thin))


def transformer(pen: Pen, primary: str = "", secondary: str = "", attributes: Attributes = ()) -> Inline:
    """A two-winding transformer. `primary`, `secondary`: "delta", "wye", "wye-grounded" or "" (single phase)."""
    shapes: list[Shape] = [line(0, 0, 0, 0.20, pen.symbol), line(0, 0.40, 0, 0.60, pen.symbol)]
    for y, (start, end) in ((0.20, (0, 180)), (0.40, (180, 360))):
        shapes.append(line(-0.24, y, 0.24, y, pen.symbol))
        shapes += [Arc((x, y), 0.06, start, end, pen.symbol) for x in (-0.18, -0.06, 0.06, 0.18)]
    shapes += _winding_mark(primary, 0.20, pen)
    shapes += _winding_mark(secondary, 0.40, pen)
    return Inline(named("transformer", shapes, attributes), TRANSFORMER_HEIGHT)


def utility(pen: Pen, attributes: Attributes = ()) -> Inline:
    """The utility: a circle with one period of a sine."""
    r = SOURCE_RADIUS
    shapes = (
        Circle((0, r), r, pen.symbol),
        Arc((-0.07, r), 0.07, 180, 360, pen.symbol),
        Arc((0.07, r), 0.07, 0, 180, pen.symbol),
    )
    return Inline(named("utility", shapes, attributes), 2 * r)


def generator(pen: Pen, attributes: Attributes = ()) -> Inline:
    """A generator."""
    shapes = (Circle((0, 0.24), 0.24, pen.symbol), label("G", (0, 0.24 + 0.07), 0.14, True, "middle"))
    return Inline(named("generator", shapes, attributes), 0.48)


def direct_source(pen: Pen, letters: str, attributes: Attributes = ()) -> Inline:
    """A photovoltaic system or battery: a box with its letters."""
    shapes = (rectangle(-0.24, 0, 0.24, 0.36, pen.symbol), label(letters, (0, 0.22), TAG_TEXT, True, "middle"))
    return Inline(named("inverter-source", shapes, attributes), 0.36)


def motor(pen: Pen, horsepower: str, attributes: Attributes = ()) -> Inline:
    """A motor with its horsepower ("M" where not known); input on top."""
    r = MOTOR_RADIUS
    shapes = (Circle((0, r), r, pen.symbol), label(horsepower, (0, r + 0.05), TEXT, anchor="middle"))
    return Inline(named("motor", shapes, attributes), 2 * r)


def equipment_outline(half: float, height: float, pen: Pen) -> Polyline:
    """The outline of packaged equipment: a box with its corners cut, so that it does not look like a panelboard."""
    cut = 0.06
    corners = (
        (-half + cut, 0.0), (half - cut, 0.0), (half, cut), (half, height - cut),
        (half - cut, height), (-half + cut, height), (-half, height - cut), (-half, cut),
    )  # fmt: skip
    return Polyline(corners, pen.symbol, closed=True)


def transfer_switch(
    pen: Pen, letters: Sequence[str], attributes: Attributes = (), name: str = "transfer-switch"
) -> Group:
    """A transfer switch: poles at x = 0, 0.50, … (the first is the normal one), output midway at the bottom."""
    last = POLE_PITCH * (len(letters) - 1)
    out = last / 2
    shapes: list[Shape] = [rectangle(-0.20, 0, last + 0.20, SWITCH_HEIGHT, pen.symbol)]
    for index, letter in enumerate(letters):
        x = POLE_PITCH * index
        shapes += [line(x, 0, x, 0.16, pen.symbol), Circle((x, 0.18), 0.02, pen.symbol)]
        shapes.append(label(letter, (x - 0.06, 0.17), BUBBLE_TEXT, anchor="end"))
    # The blade starts on the rim of the lower contact and ends on the normal pole.
    shapes += [Circle((out, 0.44), 0.02, pen.symbol), line(out, 0.46, out, SWITCH_HEIGHT, pen.symbol)]
    length = ((out) ** 2 + 0.26**2) ** 0.5
    dx, dy = -out / length * 0.02, -0.26 / length * 0.02
    shapes.append(line(round(out + dx, 4), round(0.44 + dy, 4), round(-dx, 4), round(0.18 - dy, 4), pen.symbol))
    return named(name, shapes, attributes)


def converter(pen: Pen, letters: str, inputs: int, attributes: Attributes = (), name: str = "ups") -> Group:
    """A box with letters and `inputs` poles on top (an uninterruptible power supply, a rectifier)."""
    last = POLE_PITCH * (inputs - 1)
    shapes: list[Shape] = [
        rectangle(-0.25, 0, last + 0.25, SWITCH_HEIGHT, pen.symbol),
        label(letters, (last / 2, SWITCH_HEIGHT / 2 + 0.05), TEXT, True, "middle"),
    ]
    return named(name, shapes, attributes)


def tag_width(text: str) -> float:
    """The width in inches of the hexagon around a feeder tag."""
    return max(0.36, measure(printable(text), TAG_TEXT, True) + 0.24)


def feeder_tag(text: str) -> Group:
    """A hexagon with a feeder's tag, centred on (0, 0); the wire is broken at its top and bottom."""
    half, h = round(tag_width(text) / 2, 4), TAG_HEIGHT / 2
    outline = ((-half, 0.0), (-half + 0.08, -h), (half - 0.08, -h), (half, 0.0), (half - 0.08, h), (-half + 0.08, h))
    shapes = (
        Polyline(outline, REFERENCE, closed=True),
        label(text, (0, TAG_TEXT / 2), TAG_TEXT, True, "middle"),
    )
    return named("feeder-tag", shapes, (("TAG", printable(text)),))


def flag(name_lines: Sequence[str], end: str, reference: str = FLAG_TEXT) -> Group:
    """A continuation flag: a pentagon, point down, its top edge at y = 0 and its point at the bottom.

    `end` is the id that pairs it with its partner. The last line is filled in when sheet and zone are known.
    """
    lines = (*name_lines, reference)
    half = round((max(widest(lines, TEXT, True), measure(FLAG_TEXT, TEXT) + 0.04) + 0.20) / 2, 4)
    body = round(0.08 + LINE_PITCH * len(lines) + 0.02, 4)
    point = body + 0.16
    outline = ((-half, 0.0), (half, 0.0), (half, body), (0.0, point), (-half, body))
    shapes: tuple[Shape, ...] = (
        Polyline(outline, REFERENCE, closed=True),
        *text_block(lines, 0, 0.08, bold_first=True, anchor="middle"),
    )
    return Group((0.0, 0.0), shapes, id=end, kind="flag", symbol="continuation")


def flag_height(lines: int) -> float:
    """The height in inches of a flag with so many name lines."""
    return round(0.08 + LINE_PITCH * (lines + 1) + 0.02 + 0.16, 4)


def turned_flag(name_lines: Sequence[str], end: str, reference: str = FLAG_TEXT) -> Group:
    """A continuation flag for dense boards: text turned to read from the right, point down."""
    lines = (*name_lines, reference)
    length = round(max(widest(lines, TEXT, True), measure(FLAG_TEXT, TEXT) + 0.04) + 0.16, 4)
    half = round((LINE_PITCH * len(lines) + 0.06) / 2, 4)
    outline = ((-half, 0.0), (half, 0.0), (half, length), (0.0, length + 0.12), (-half, length))
    shapes: tuple[Shape, ...] = (
        Polyline(outline, REFERENCE, closed=True),
        *turned_block(lines, -half + 0.05, length - 0.06, bold_first=True),
    )
    return Group((0.0, 0.0), shapes, id=end, kind="flag", symbol="continuation")
