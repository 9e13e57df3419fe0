"""Write a drawing as one PDF through typst: primitives only, the shipped font embedded, no date.

Typst drops width words from family names ("Barlow Semi Condensed" is family "Barlow", stretch 87.5 %), so the text asks
for that; system fonts are never used.
"""

from __future__ import annotations

from importlib import resources
from math import ceil, cos, radians, sin, tan

from fedfrom.drawing.lettering import CAP_HEIGHT
from fedfrom.drawing.scene import Arc, Circle, Drawing, Label, Point, Polyline, Sheet, Stroke
from fedfrom.drawing.shapes import walk

_PRELUDE = """#set document(title: "{title}", date: none)
#set page(margin: 0pt)
#set text(font: "Barlow", stretch: 87.5%, kerning: false, ligatures: false, hyphenate: false, lang: "en",
  top-edge: "baseline", bottom-edge: "baseline", fallback: false)
#let at(x, y, body) = place(top + left, dx: x * 1in, dy: y * 1in, body)
#let t(x, y, s, b, body) = at(x, y, text(size: s * 1in, weight: b, body))
#let v(x, y, s, b, body) = at(x, y, rotate(-90deg, origin: top + left, text(size: s * 1in, weight: b, body)))
#let p(stroke, fill, ..points) = at(0, 0, curve(stroke: stroke, fill: fill, ..points))
#let m(x, y) = curve.move((x * 1in, y * 1in))
#let l(x, y) = curve.line((x * 1in, y * 1in))
#let q(a, b, d, e, x, y) = curve.cubic((a * 1in, b * 1in), (d * 1in, e * 1in), (x * 1in, y * 1in))
#let z = curve.close(mode: "straight")
"""


def write_pdf(drawing: Drawing) -> bytes:
    """All sheets of a drawing in one document, each page of its sheet's size."""
    import typst

    strokes: dict[Stroke, str] = {}
    pages = [_page(sheet, strokes) for sheet in drawing.sheets]
    prelude = _PRELUDE.replace("{title}", _string(drawing.title))
    rules = [f"#let {name} = {_stroke(stroke)}" for stroke, name in strokes.items()]
    source = "\n".join([prelude, *rules, *pages])
    with resources.as_file(resources.files("fedfrom.drawing").joinpath("fonts")) as folder:
        done = typst.compile(
            source.encode(),
            format="pdf",
            font_paths=typst.Fonts(include_system_fonts=False, font_paths=[folder]),
            ignore_system_fonts=True,
            pdf_tags=False,
        )
    return bytes(done)


def _string(text: str) -> str:
    return text.replace("\\", "\\\\").replace('"', '\\"')


def _number(value: float) -> str:
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _stroke(stroke: Stroke) -> str:
    dash = ""
    if stroke.dash:
        dash = ", dash: (" + ", ".join(f"{_number(part)}in" for part in stroke.dash) + ")"
    return f'(paint: black, thickness: {_number(stroke.weight_mm)}mm, cap: "butt", join: "round"{dash})'


def _name(stroke: Stroke, strokes: dict[Stroke, str]) -> str:
    if stroke not in strokes:
        number = len(strokes)
        strokes[stroke] = "s" + chr(97 + number // 26) + chr(97 + number % 26)
    return strokes[stroke]


def _page(sheet: Sheet, strokes: dict[Stroke, str]) -> str:
    paths: dict[tuple[Stroke, bool], list[str]] = {}
    texts: list[str] = []
    for shape, at in walk(sheet.shapes):
        if isinstance(shape, Label):
            texts.append(_text(shape, at))
        else:
            filled = not isinstance(shape, Arc) and shape.filled
            paths.setdefault((shape.stroke, filled), []).append(_steps(shape, at))
    # Everything of one stroke is one path: far fewer things to lay out, and all of it is black.
    drawn = [
        f"p({_name(stroke, strokes)}, {_fill(filled)}, {', '.join(steps)})" for (stroke, filled), steps in paths.items()
    ]
    head = f"#page(width: {_number(sheet.width)}in, height: {_number(sheet.height)}in)[#{{"
    return "\n".join([head, *drawn, *texts, "}]"])


def _steps(shape: Polyline | Circle | Arc, at: Point) -> str:
    """The steps of a path along a shape."""
    if isinstance(shape, Arc):
        return _arc(shape, at)
    if isinstance(shape, Circle):
        return _arc(Arc(shape.center, shape.radius, 0.0, 360.0, shape.stroke), at) + ", z"
    points = [(x + at[0], y + at[1]) for x, y in shape.points]
    steps = [f"m({_pair(points[0])})", *(f"l({_pair(point)})" for point in points[1:])]
    return ", ".join([*steps, "z"] if shape.closed else steps)


def _pair(point: Point) -> str:
    return f"{_number(point[0])}, {_number(point[1])}"


def _fill(filled: bool) -> str:
    return "black" if filled else "none"


def _arc(arc: Arc, at: Point) -> str:
    """An arc as cubic curves of at most a quarter turn each."""
    count = max(1, ceil((arc.end_deg - arc.start_deg) / 90 - 1e-9))
    step = radians(arc.end_deg - arc.start_deg) / count
    reach = 4 / 3 * tan(step / 4) * arc.radius
    x0, y0 = arc.center[0] + at[0], arc.center[1] + at[1]
    angle = radians(arc.start_deg)
    steps = [f"m({_pair((x0 + arc.radius * cos(angle), y0 + arc.radius * sin(angle)))})"]
    for _ in range(count):
        end = angle + step
        a = (x0 + arc.radius * cos(angle) - reach * sin(angle), y0 + arc.radius * sin(angle) + reach * cos(angle))
        b = (x0 + arc.radius * cos(end) + reach * sin(end), y0 + arc.radius * sin(end) - reach * cos(end))
        last = (x0 + arc.radius * cos(end), y0 + arc.radius * sin(end))
        steps.append(f"q({_pair(a)}, {_pair(b)}, {_pair(last)})")
        angle = end
    return ", ".join(steps)


def _text(shape: Label, at: Point) -> str:
    """A text that starts at its measured left end (turned: its lower end), so that nothing has to be aligned."""
    x, y = shape.at[0] + at[0], shape.at[1] + at[1]
    shift = {"start": 0.0, "middle": shape.width / 2, "end": shape.width}[shape.anchor]
    kind = "v" if shape.turn == 90 else "t"
    place = (x, y + shift) if shape.turn == 90 else (x - shift, y)
    weight = 700 if shape.bold else 400
    size = _number(shape.height / CAP_HEIGHT)
    return f'{kind}({_pair(place)}, {size}, {weight}, "{_string(shape.text)}")'
