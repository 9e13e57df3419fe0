"""Write a sheet as DXF (R2010, inches): a BLOCK for each symbol with attributes, layers by role and status, text fitted
between two points so that a substitute font is squeezed to the measured width.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from fedfrom.drawing.scene import Arc, Circle, Group, Label, Point, Polyline, Shape, Sheet, Stroke
from fedfrom.drawing.shapes import Primitive, walk
from fedfrom.drawing.style import LAYERS

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document

DRAWN_IN_PLACE = frozenset({"bus", "enclosure", "terminal-bar"})
"""Symbols whose size follows the design: plain lines, no BLOCK."""
STYLES = {False: "LETTERING", True: "LETTERING-BOLD"}
FONTS = {False: "barlow-semi-condensed-400.ttf", True: "barlow-semi-condensed-700.ttf"}


def write_dxf(sheet: Sheet) -> bytes:
    """The sheet as a DXF file; the same sheet always gives the same bytes."""
    from ezdxf.filemanagement import new

    with _fixed_metadata():
        doc = new("R2010", setup=False)
        writer = _Writer(doc, sheet.height)
        writer.set_up(sheet)
        writer.write(sheet.shapes, (0.0, 0.0), doc.modelspace())
        doc.classes.add_required_classes(doc.dxfversion)
        doc.classes.classes = dict(sorted(doc.classes.classes.items()))
        stream = io.StringIO()
        doc.write(stream)
    return stream.getvalue().encode("utf-8")


@contextmanager
def _fixed_metadata() -> Iterator[None]:
    """No dates and no random ids in the file."""
    import ezdxf

    options = ezdxf.options  # type: ignore[attr-defined]
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


class _Writer:
    """Writes shapes into a layout or block; y is turned over (CAD has y up, its origin at the sheet's lower left)."""

    def __init__(self, doc: Document, height: float) -> None:
        self.doc = doc
        self.height = height
        self.blocks: dict[tuple[str, tuple[Shape, ...]], str] = {}
        self.linetypes: dict[tuple[float, ...], str] = {(): "CONTINUOUS"}

    def set_up(self, sheet: Sheet) -> None:
        """Units, plotted lineweights, text styles, layers in a fixed order."""
        header = self.doc.header
        header["$INSUNITS"], header["$MEASUREMENT"], header["$LWDISPLAY"], header["$LTSCALE"] = 1, 0, 1, 1.0
        header["$EXTMIN"], header["$EXTMAX"] = (0, 0, 0), (sheet.width, sheet.height, 0)
        header["$LIMMIN"], header["$LIMMAX"] = (0, 0), (sheet.width, sheet.height)
        for bold, name in STYLES.items():
            self.doc.styles.add(name, font=FONTS[bold])
        used = {self.layer_of(shape) for shape, _ in walk(sheet.shapes)}
        for name in dict.fromkeys(LAYERS.values()):
            if name in used:
                self.doc.layers.add(name, color=7)

    @staticmethod
    def layer_of(shape: Primitive) -> str:
        return LAYERS[shape.layer if isinstance(shape, Label) else shape.stroke.layer]

    def place(self, point: Point, at: Point, top: float) -> Point:
        return (round(point[0] + at[0], 5), round(top - point[1] - at[1], 5))

    def look(self, stroke: Stroke) -> dict[str, Any]:
        """Layer, lineweight in hundredths of a millimetre, line type."""
        if stroke.dash not in self.linetypes:
            name = f"DASH-{len(self.linetypes)}"
            steps = [part if index % 2 == 0 else -part for index, part in enumerate(stroke.dash)]
            self.doc.linetypes.add(name, pattern=[round(sum(stroke.dash), 4), *steps], description=name)
            self.linetypes[stroke.dash] = name
        return {
            "layer": LAYERS[stroke.layer],
            "lineweight": round(stroke.weight_mm * 100),
            "linetype": self.linetypes[stroke.dash],
        }

    def write(self, shapes: Sequence[Shape], at: Point, target: Any, top: float | None = None) -> None:
        """Write shapes at an offset; inside a BLOCK `top` is 0, its base point being the symbol's connection."""
        height = self.height if top is None else top
        for shape in shapes:
            if isinstance(shape, Group):
                origin = (shape.at[0] + at[0], shape.at[1] + at[1])
                if shape.symbol and shape.symbol not in DRAWN_IN_PLACE:
                    self.insert(shape, origin, target, height)
                else:
                    self.write(shape.shapes, origin, target, height)
            elif isinstance(shape, Label):
                self.text(shape, at, target, height)
            else:
                self.line_work(shape, at, target, height)

    def line_work(self, shape: Polyline | Circle | Arc, at: Point, target: Any, top: float) -> None:
        look = self.look(shape.stroke)
        if isinstance(shape, Polyline):
            points = [self.place(point, at, top) for point in shape.points]
            if len(points) == 2:
                target.add_line(points[0], points[1], dxfattribs=look)
            else:
                target.add_lwpolyline(points, close=shape.closed, dxfattribs=look)
            return
        center = self.place(shape.center, at, top)
        if isinstance(shape, Arc):
            target.add_arc(center, shape.radius, -shape.end_deg, -shape.start_deg, dxfattribs=look)
            return
        target.add_circle(center, shape.radius, dxfattribs=look)
        if shape.filled:
            hatch = target.add_hatch(color=7, dxfattribs={"layer": look["layer"]})
            hatch.paths.add_edge_path().add_arc(center, shape.radius, 0, 360)

    def ends(self, shape: Label, at: Point, top: float) -> tuple[Point, Point]:
        """The two points between which a text is fitted."""
        shift = {"start": 0.0, "middle": -shape.width / 2, "end": -shape.width}[shape.anchor]
        x, y = shape.at
        if shape.turn == 90:
            return self.place((x, y - shift), at, top), self.place((x, y - shift - shape.width), at, top)
        return self.place((x + shift, y), at, top), self.place((x + shift + shape.width, y), at, top)

    def text(self, shape: Label, at: Point, target: Any, top: float) -> None:
        from ezdxf.enums import TextEntityAlignment

        if not shape.text:
            return
        look = {"layer": LAYERS[shape.layer], "style": STYLES[shape.bold], "height": shape.height}
        entity = target.add_text(shape.text, dxfattribs=look)
        entity.set_placement(*self.ends(shape, at, top), align=TextEntityAlignment.FIT)

    def insert(self, group: Group, origin: Point, target: Any, top: float) -> None:
        """A reference to the symbol's BLOCK; its letters and facts are attributes of the reference."""
        from ezdxf.enums import TextEntityAlignment

        drawn = [(shape, at) for shape, at in walk(group.shapes)]
        letters = [(shape, at) for shape, at in drawn if isinstance(shape, Label) and shape.text]
        name = self.block(group, [(shape, at) for shape, at in drawn if not isinstance(shape, Label)], letters)
        x, y = self.place((0.0, 0.0), origin, top)
        reference = target.add_blockref(name, (x, y), dxfattribs={"layer": self.layer_of(drawn[0][0])})
        for number, (shape, at) in enumerate(letters, 1):
            look = {"layer": LAYERS[shape.layer], "style": STYLES[shape.bold], "height": shape.height}
            attribute = reference.add_attrib(f"TEXT{number}", shape.text, (x, y), dxfattribs=look)
            place = (at[0] + origin[0], at[1] + origin[1])
            attribute.set_placement(*self.ends(shape, place, top), align=TextEntityAlignment.FIT)
        for key, value in group.attributes:
            look = {"layer": LAYERS["text"], "style": STYLES[False], "height": 0.05, "flags": 1}
            reference.add_attrib(key, value, (x, y), dxfattribs=look)

    def block(
        self, group: Group, drawn: Sequence[tuple[Primitive, Point]], letters: Sequence[tuple[Label, Point]]
    ) -> str:
        """The name of the BLOCK of this form of a symbol: "BREAKER", then "BREAKER-2" for another form or status."""
        form = tuple(Group(at, (shape,)) for shape, at in drawn)
        signature = (f"{group.symbol}/{len(letters)}/{','.join(key for key, _ in group.attributes)}", form)
        if signature in self.blocks:
            return self.blocks[signature]
        base = group.symbol.upper()
        count = sum(1 for name in self.blocks.values() if name.partition("#")[0] == base)
        name = base if not count else f"{base}#{count + 1}"
        self.blocks[signature] = name
        block = self.doc.blocks.new(name)
        self.write(form, (0.0, 0.0), block, 0.0)
        for number, (shape, at) in enumerate(letters, 1):
            look = {"layer": LAYERS[shape.layer], "style": STYLES[shape.bold], "height": shape.height}
            block.add_attdef(f"TEXT{number}", self.place(shape.at, at, 0.0), "", dxfattribs=look)
        for key, _ in group.attributes:
            look = {"layer": LAYERS["text"], "style": STYLES[False], "height": 0.05, "flags": 1}
            block.add_attdef(key, (0, 0), "", dxfattribs=look)
        return name
