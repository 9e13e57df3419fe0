"""Write a sheet as a stand-alone SVG: inches as user units, weights as classes, the shipped font embedded."""

from __future__ import annotations

import base64
from functools import lru_cache
from html import escape
from importlib import resources
from math import cos, radians, sin

from fedfrom.drawing.lettering import CAP_HEIGHT
from fedfrom.drawing.scene import Arc, Circle, Group, Label, Polyline, Shape, Sheet, Stroke

MM = 25.4
FAMILY = "'Barlow Semi Condensed','Barlow'"
"""Some readers drop width words from family names, so both forms are listed."""


def write_svg(sheet: Sheet) -> bytes:
    """The sheet as UTF-8 text; the same sheet always gives the same bytes."""
    body: list[str] = []
    strokes: dict[Stroke, str] = {}
    for shape in sheet.shapes:
        _write(shape, body, strokes, 1)
    head = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(sheet.width)}in" height="{number(sheet.height)}in" '
        f'viewBox="0 0 {number(sheet.width)} {number(sheet.height)}" data-sheet="{_attribute(sheet.number)}">',
        f"<title>{escape(sheet.title)}, {escape(sheet.number)}</title>",
        "<style>",
        *font_face_rules(),
        "svg{background:#fff}",
        "path,circle{fill:none;stroke:#000;stroke-linejoin:round}",
        f"text{{font-family:{FAMILY},sans-serif;font-kerning:none;fill:#000}}",
        ".b{font-weight:700}.f{fill:#000}.m{text-anchor:middle}.e{text-anchor:end}",
        *[_rule(stroke, name) for stroke, name in strokes.items()],
        "</style>",
    ]
    return "\n".join([*head, *body, "</svg>", ""]).encode()


def number(value: float) -> str:
    """At most three decimals, no trailing zeros, no minus zero."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


@lru_cache(maxsize=1)
def font_face_rules() -> tuple[str, ...]:
    """The style rules that carry the shipped font, regular and bold."""
    folder = resources.files("fedfrom.drawing").joinpath("fonts")
    faces = []
    for weight in (400, 700):
        data = base64.b64encode(folder.joinpath(f"barlow-semi-condensed-{weight}.woff2").read_bytes()).decode()
        faces.append(
            f"@font-face{{font-family:'Barlow Semi Condensed';font-weight:{weight};"
            f"src:url(data:font/woff2;base64,{data}) format('woff2')}}"
        )
    return tuple(faces)


def _rule(stroke: Stroke, name: str) -> str:
    dash = f";stroke-dasharray:{','.join(number(part) for part in stroke.dash)}" if stroke.dash else ""
    return f".{name}{{stroke-width:{number(stroke.weight_mm / MM)}{dash}}}"


def _class(stroke: Stroke, strokes: dict[Stroke, str]) -> str:
    if stroke not in strokes:
        strokes[stroke] = f"s{len(strokes)}"
    return strokes[stroke]


def _attribute(text: str) -> str:
    return escape(text, quote=True)


def _write(shape: Shape, out: list[str], strokes: dict[Stroke, str], depth: int) -> None:
    pad = " " * depth
    if isinstance(shape, Group):
        out.append(f"{pad}<g{_group_attributes(shape)}>")
        for part in shape.shapes:
            _write(part, out, strokes, depth + 1)
        out.append(f"{pad}</g>")
    elif isinstance(shape, Polyline):
        path = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in shape.points) + ("Z" if shape.closed else "")
        filled = " f" if shape.filled else ""
        out.append(f'{pad}<path class="{_class(shape.stroke, strokes)}{filled}" d="{path}"/>')
    elif isinstance(shape, Circle):
        filled = " f" if shape.filled else ""
        x, y = shape.center
        out.append(
            f'{pad}<circle class="{_class(shape.stroke, strokes)}{filled}" '
            f'cx="{number(x)}" cy="{number(y)}" r="{number(shape.radius)}"/>'
        )
    elif isinstance(shape, Arc):
        out.append(f'{pad}<path class="{_class(shape.stroke, strokes)}" d="{_arc_path(shape)}"/>')
    else:
        out.append(pad + _text(shape))


def _group_attributes(group: Group) -> str:
    parts = []
    if group.id:
        parts.append(f' data-id="{_attribute(group.id)}"')
    if group.kind:
        parts.append(f' data-kind="{_attribute(group.kind)}"')
    if group.symbol:
        parts.append(f' data-symbol="{_attribute(group.symbol)}"')
    if group.at != (0.0, 0.0):
        parts.append(f' transform="translate({number(group.at[0])} {number(group.at[1])})"')
    return "".join(parts)


def _arc_path(arc: Arc) -> str:
    (cx, cy), r = arc.center, arc.radius
    start, end = radians(arc.start_deg), radians(arc.end_deg)
    large = 1 if arc.end_deg - arc.start_deg > 180 else 0
    return (
        f"M{number(cx + r * cos(start))} {number(cy + r * sin(start))}"
        f"A{number(r)} {number(r)} 0 {large} 1 {number(cx + r * cos(end))} {number(cy + r * sin(end))}"
    )


def _text(shape: Label) -> str:
    x, y = number(shape.at[0]), number(shape.at[1])
    classes = " ".join(
        name for name in ("b" if shape.bold else "", {"middle": "m", "end": "e"}.get(shape.anchor, "")) if name
    )
    marks = f' class="{classes}"' if classes else ""
    turned = f' transform="rotate(-90 {x} {y})"' if shape.turn == 90 else ""
    return (
        f'<text{marks} x="{x}" y="{y}" font-size="{number(shape.height / CAP_HEIGHT)}" '
        f'textLength="{number(shape.width)}" lengthAdjust="spacingAndGlyphs"{turned}>'
        f"{escape(shape.text, quote=False)}</text>"
    )
