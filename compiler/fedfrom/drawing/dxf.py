"""Write a sheet as DXF (R2010, inches): a BLOCK for each symbol with attributes, layers by role and status, text fitted
between two points so that a substitute font is squeezed to the measured width.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import lru_cache
from threading import Lock

from fedfrom.drawing.dxf_entities import Attribute, Entities, Handles, look_of
from fedfrom.drawing.dxf_file import PATTERN, Surroundings, filled, surroundings
from fedfrom.drawing.scene import Arc, Circle, Group, Label, Point, Polyline, Shape, Sheet, Stroke
from fedfrom.drawing.shapes import Primitive, walk
from fedfrom.drawing.style import LAYERS

DRAWN_IN_PLACE = frozenset({"bus", "enclosure", "terminal-bar"})
"""Symbols whose size follows the design: plain lines, no BLOCK."""
STYLES = {False: "LETTERING", True: "LETTERING-BOLD"}
FONTS = {False: "barlow-semi-condensed-400.ttf", True: "barlow-semi-condensed-700.ttf"}
FACT_HEIGHT = 0.05
"""Height of the hidden attributes, inches."""

_ONE_AT_A_TIME = Lock()
"""Fixed metadata is an option of the whole library: outputs written beside each other must not undo it."""


def write_dxf(sheet: Sheet) -> bytes:
    """The sheet as a DXF file; the same sheet always gives the same bytes."""
    writer = _Writer(sheet.height)
    writer.write(sheet.shapes, (0.0, 0.0), writer.model)
    return _document(sheet, writer).encode("utf-8")


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


def _document(sheet: Sheet, writer: _Writer) -> str:
    """The file with the blocks and the entities of model space in it."""
    layers = tuple(name for name in dict.fromkeys(LAYERS.values()) if name in writer.layers)
    frame = _around(sheet.width, sheet.height, layers, tuple(writer.linetypes.items()))
    blocks = list(zip(writer.blocks.values(), writer.contents, strict=True))
    return filled(frame, writer.model, blocks, writer.handles)


@lru_cache(maxsize=64)
def _around(
    width: float, height: float, layers: tuple[str, ...], linetypes: tuple[tuple[tuple[float, ...], str], ...]
) -> Surroundings:
    """Header, layers, line types, text styles and objects of a sheet, made once for all sheets that are alike in them.

    It holds one block without content, the pattern of all blocks.
    """
    from ezdxf.filemanagement import new

    with _ONE_AT_A_TIME, _fixed_metadata():
        doc = new("R2010", setup=False)
        header = doc.header
        header["$INSUNITS"], header["$MEASUREMENT"], header["$LWDISPLAY"], header["$LTSCALE"] = 1, 0, 1, 1.0
        header["$EXTMIN"], header["$EXTMAX"] = (0, 0, 0), (width, height, 0)
        header["$LIMMIN"], header["$LIMMAX"] = (0, 0), (width, height)
        for bold, name in STYLES.items():
            doc.styles.add(name, font=FONTS[bold])
        for name in layers:
            doc.layers.add(name, color=7)
        for dash, name in linetypes:
            if dash:
                steps = [part if index % 2 == 0 else -part for index, part in enumerate(dash)]
                doc.linetypes.add(name, pattern=[round(sum(dash), 4), *steps], description=name)
        pattern = doc.blocks.new(PATTERN)
        doc.classes.add_required_classes(doc.dxfversion)
        doc.classes.classes = dict(sorted(doc.classes.classes.items()))
        stream = io.StringIO()
        doc.write(stream)
        return surroundings(stream.getvalue(), doc.modelspace().layout_key, pattern.block_record_handle)


class _Writer:
    """Writes shapes into model space or a block; y is turned over (CAD has y up, the origin at the lower left)."""

    def __init__(self, height: float) -> None:
        self.height = height
        self.handles = Handles()
        self.model = Entities(self.handles)
        self.blocks: dict[tuple[str, tuple[Shape, ...]], str] = {}
        self.contents: list[Entities] = []
        self.counts: dict[str, int] = {}
        self.linetypes: dict[tuple[float, ...], str] = {(): "CONTINUOUS"}
        self.layers: set[str] = set()
        self.looks: dict[Stroke, str] = {}

    def layer(self, key: str) -> str:
        name = LAYERS[key]
        self.layers.add(name)
        return name

    def layer_of(self, shape: Primitive) -> str:
        return self.layer(shape.layer if isinstance(shape, Label) else shape.stroke.layer)

    def place(self, point: Point, at: Point, top: float) -> Point:
        return (round(point[0] + at[0], 5), round(top - point[1] - at[1], 5))

    def look(self, stroke: Stroke) -> str:
        """Layer, lineweight in hundredths of a millimetre, line type."""
        found = self.looks.get(stroke)
        if found is None:
            linetype = self.linetypes.setdefault(stroke.dash, f"DASH-{len(self.linetypes)}")
            found = look_of(self.layer(stroke.layer), linetype, round(stroke.weight_mm * 100))
            self.looks[stroke] = found
        return found

    def write(self, shapes: Sequence[Shape], at: Point, target: Entities, top: float | None = None) -> None:
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
                if shape.text:
                    start, end = self.ends(shape, at, height)
                    target.text(shape.text, start, end, shape.height, STYLES[shape.bold], self.layer(shape.layer))
            else:
                self.line_work(shape, at, target, height)

    def line_work(self, shape: Polyline | Circle | Arc, at: Point, target: Entities, top: float) -> None:
        look = self.look(shape.stroke)
        if isinstance(shape, Polyline):
            points = [self.place(point, at, top) for point in shape.points]
            if len(points) == 2:
                target.line(points[0], points[1], look)
            else:
                target.polyline(points, shape.closed, look)
            return
        center = self.place(shape.center, at, top)
        if isinstance(shape, Arc):
            target.arc(center, shape.radius, -shape.end_deg, -shape.start_deg, look)
            return
        target.circle(center, shape.radius, look)
        if shape.filled:
            target.disc(center, shape.radius, look)

    def ends(self, shape: Label, at: Point, top: float) -> tuple[Point, Point]:
        """The two points between which a text is fitted."""
        shift = {"start": 0.0, "middle": -shape.width / 2, "end": -shape.width}[shape.anchor]
        x, y = shape.at
        if shape.turn == 90:
            return self.place((x, y - shift), at, top), self.place((x, y - shift - shape.width), at, top)
        return self.place((x + shift, y), at, top), self.place((x + shift + shape.width, y), at, top)

    def insert(self, group: Group, origin: Point, target: Entities, top: float) -> None:
        """A reference to the symbol's BLOCK; its letters and facts are attributes of the reference."""
        drawn = [(shape, at) for shape, at in walk(group.shapes)]
        letters = [(shape, at) for shape, at in drawn if isinstance(shape, Label) and shape.text]
        name = self.block(group, [(shape, at) for shape, at in drawn if not isinstance(shape, Label)], letters)
        at_point = self.place((0.0, 0.0), origin, top)
        attributes = []
        for number, (shape, at) in enumerate(letters, 1):
            start, end = self.ends(shape, (at[0] + origin[0], at[1] + origin[1]), top)
            look = (shape.height, STYLES[shape.bold], self.layer(shape.layer))
            attributes.append(Attribute(f"TEXT{number}", shape.text, start, end, *look))
        for key, value in group.attributes:
            look = (FACT_HEIGHT, STYLES[False], self.layer("text"))
            attributes.append(Attribute(key, value, at_point, None, *look, hidden=True))
        target.reference(name, at_point, self.layer_of(drawn[0][0]), attributes)

    def block(
        self, group: Group, drawn: Sequence[tuple[Primitive, Point]], letters: Sequence[tuple[Label, Point]]
    ) -> str:
        """The name of the BLOCK of this form of a symbol: "BREAKER", then "BREAKER#2" for another form or status."""
        form = tuple(Group(at, (shape,)) for shape, at in drawn)
        signature = (f"{group.symbol}/{len(letters)}/{','.join(key for key, _ in group.attributes)}", form)
        known = self.blocks.get(signature)
        if known is not None:
            return known
        base = group.symbol.upper()
        self.counts[base] = self.counts.get(base, 0) + 1
        name = base if self.counts[base] == 1 else f"{base}#{self.counts[base]}"
        self.blocks[signature] = name
        block = Entities(self.handles)
        self.contents.append(block)
        self.write(form, (0.0, 0.0), block, 0.0)
        for number, (shape, at) in enumerate(letters, 1):
            place = self.place(shape.at, at, 0.0)
            layer = self.layer(shape.layer)
            block.attribute_place(f"TEXT{number}", place, shape.height, STYLES[shape.bold], layer, False)
        for key, _ in group.attributes:
            block.attribute_place(key, (0.0, 0.0), FACT_HEIGHT, STYLES[False], self.layer("text"), True)
        return name
