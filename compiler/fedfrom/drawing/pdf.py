"""Write a drawing as one PDF through typst: primitives only, the shipped font embedded, no date.

Typst drops width words from family names ("Barlow Semi Condensed" is family "Barlow", stretch 87.5 %), so the text asks
for that; system fonts are never used. Typst gets the primitives as data, not as text of its own language: it reads that
a quarter faster.
"""

from __future__ import annotations

import json
from importlib import resources
from math import ceil, cos, radians, sin, tan
from typing import TypeAlias

from fedfrom.drawing.lettering import CAP_HEIGHT
from fedfrom.drawing.scene import Arc, Circle, Drawing, Label, Point, Polyline, Sheet, Stroke
from fedfrom.drawing.shapes import walk

Step: TypeAlias = list[float]
"""One step of a path, told apart by how many numbers it has: 2 a line to a point, 3 a new start (the third number says
nothing), 6 a cubic curve, none the way back to the start."""

_PROGRAM = """#set page(margin: 0pt)
#set text(font: "Barlow", stretch: 87.5%, kerning: false, ligatures: false, hyphenate: false, lang: "en",
  top-edge: "baseline", bottom-edge: "baseline", fallback: false)
#let at(x, y, body) = place(top + left, dx: x * 1in, dy: y * 1in, body)
#let step(c) = {
  let n = c.len()
  if n == 2 { curve.line((c.at(0) * 1in, c.at(1) * 1in)) }
  else if n == 3 { curve.move((c.at(0) * 1in, c.at(1) * 1in)) }
  else if n == 6 {
    curve.cubic((c.at(0) * 1in, c.at(1) * 1in), (c.at(2) * 1in, c.at(3) * 1in), (c.at(4) * 1in, c.at(5) * 1in))
  } else { curve.close(mode: "straight") }
}
#let given = json(bytes(sys.inputs.drawing))
#set document(title: given.title, date: none)
#let strokes = given.strokes.map(((weight, dash)) => stroke(
  paint: black, thickness: weight * 1mm, cap: "butt", join: "round",
  dash: if dash.len() > 0 { dash.map(part => part * 1in) },
))
#for (width, height, paths, texts) in given.pages {
  page(width: width * 1in, height: height * 1in, {
    for (pen, filled, steps) in paths {
      at(0, 0, curve(stroke: strokes.at(pen), fill: if filled { black }, ..steps.map(step)))
    }
    for (turned, x, y, size, weight, words) in texts {
      let body = text(size: size * 1in, weight: weight, words)
      at(x, y, if turned { rotate(-90deg, origin: top + left, body) } else { body })
    }
  })
}
"""


def write_pdf(drawing: Drawing) -> bytes:
    """All sheets of a drawing in one document, each page of its sheet's size."""
    import typst

    strokes: dict[Stroke, int] = {}
    pages = [_page(sheet, strokes) for sheet in drawing.sheets]
    pens = [(stroke.weight_mm, stroke.dash) for stroke in strokes]
    data = json.dumps({"title": drawing.title, "strokes": pens, "pages": pages}, separators=(",", ":"))
    with resources.as_file(resources.files("fedfrom.drawing").joinpath("fonts")) as folder:
        done = typst.compile(
            _PROGRAM.encode(),
            format="pdf",
            font_paths=typst.Fonts(include_system_fonts=False, font_paths=[folder]),
            ignore_system_fonts=True,
            pdf_tags=False,
            sys_inputs={"drawing": data},
        )
    return bytes(done)


def _page(sheet: Sheet, strokes: dict[Stroke, int]) -> tuple[object, ...]:
    """Width, height, paths and texts of a sheet as the program above takes them."""
    paths: dict[tuple[int, bool], list[Step]] = {}
    texts = []
    for shape, at in walk(sheet.shapes):
        if isinstance(shape, Label):
            texts.append(_text(shape, at))
        else:
            filled = not isinstance(shape, Arc) and shape.filled
            pen = strokes.setdefault(shape.stroke, len(strokes))
            paths.setdefault((pen, filled), []).extend(_steps(shape, at))
    # Everything of one stroke is one path: far fewer things to lay out, and all of it is black.
    drawn = [(pen, filled, steps) for (pen, filled), steps in paths.items()]
    return (sheet.width, sheet.height, drawn, texts)


def _steps(shape: Polyline | Circle | Arc, at: Point) -> list[Step]:
    """The steps of a path along a shape."""
    if isinstance(shape, Arc):
        return _arc(shape, at)
    if isinstance(shape, Circle):
        return [*_arc(Arc(shape.center, shape.radius, 0.0, 360.0, shape.stroke), at), []]
    steps: list[Step] = [[round(x + at[0], 4), round(y + at[1], 4)] for x, y in shape.points]
    steps[0].append(0)
    return [*steps, []] if shape.closed else steps


def _arc(arc: Arc, at: Point) -> list[Step]:
    """An arc as cubic curves of at most a quarter turn each."""
    count = max(1, ceil((arc.end_deg - arc.start_deg) / 90 - 1e-9))
    step = radians(arc.end_deg - arc.start_deg) / count
    reach = 4 / 3 * tan(step / 4) * arc.radius
    x0, y0 = arc.center[0] + at[0], arc.center[1] + at[1]
    angle = radians(arc.start_deg)
    x, y = arc.radius * cos(angle), arc.radius * sin(angle)
    steps: list[Step] = [[round(x0 + x, 4), round(y0 + y, 4), 0]]
    for _ in range(count):
        turned = angle + step
        lead = (x0 + x - reach * sin(angle), y0 + y + reach * cos(angle))
        x, y = arc.radius * cos(turned), arc.radius * sin(turned)
        trail = (x0 + x + reach * sin(turned), y0 + y - reach * cos(turned))
        steps.append([round(value, 4) for value in (*lead, *trail, x0 + x, y0 + y)])
        angle = turned
    return steps


def _text(shape: Label, at: Point) -> tuple[bool, float, float, float, int, str]:
    """A text that starts at its measured left end (turned: its lower end), so that nothing has to be aligned."""
    x, y = shape.at[0] + at[0], shape.at[1] + at[1]
    shift = {"start": 0.0, "middle": shape.width / 2, "end": shape.width}[shape.anchor]
    turned = shape.turn == 90
    x, y = (x, y + shift) if turned else (x - shift, y)
    size = round(shape.height / CAP_HEIGHT, 4)
    return (turned, round(x, 4), round(y, 4), size, 700 if shape.bold else 400, shape.text)
