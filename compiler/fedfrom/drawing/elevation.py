"""Front elevations of switchboards, motor control centers and meter centers: `elevations(results) -> Drawing`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fedfrom.drawing.elevation_section import HEAD_LINES, TOP_SHARE, head_lines, section_shapes
from fedfrom.drawing.lettering import capitals, wrap
from fedfrom.drawing.papers import Paper, paper_named
from fedfrom.drawing.scaled import View, across, feet_text, inches_text, scale_for, shelves, upright
from fedfrom.drawing.scene import Drawing, Shape, Stroke
from fedfrom.drawing.shapes import label, line, rectangle, text_block
from fedfrom.drawing.sheet_set import Body, framed
from fedfrom.drawing.style import LINE_PITCH, NOTE_PITCH, NOTE_TEXT, TAG_TEXT, TITLE_TEXT, pen
from fedfrom.drawing.words import words
from fedfrom.results.assembly import PLANNING, Assembly
from fedfrom.results.notation import amperes_text, kiloamperes_text
from fedfrom.results.types import GearResult, Results, SectionResult

FIRST_SHEET = 201
"""Elevations are sheets E-201 and up: type 2 of the Uniform Drawing System (from memory)."""
KINDS = ("switchboard", "motor control center", "meter center")
LEFT = 0.75
ROW = 0.38
TITLE_LINES = 5
LEAST_WIDTH = 6.0
BUS_BELOW_TOP = 8.0
LEAST_FOR_BUS = 10.0
"""Inches of the gear: where the through bus is drawn, and the height above the devices from which on it is."""
_BUS = Stroke(0.80, (0.22, 0.06), "equipment")


@dataclass(frozen=True, slots=True)
class LineUp:
    """Gear drawn in one view: one board, or two on one through bus, from left to right."""

    gear: tuple[GearResult, ...]

    @property
    def sections(self) -> list[tuple[GearResult, SectionResult]]:
        return [(each, section) for each in self.gear for section in each.sections]


def elevations(results: Results) -> Drawing:
    """Every line-up to scale. No sheets where the design has none, or none with dimensions."""
    title = words("titles")["elevation"]
    paper = paper_named(results.project.sheet_size)
    found = list(_line_ups(results))
    drawable = [each for each in found if _is_drawable(each)]
    views = [_view(each, results, paper) for each in drawable]
    left_out = [gear.tag for each in found if each not in drawable for gear in each.gear]
    bodies = []
    for index, (page, shapes) in enumerate(shelves(views, paper)):
        bodies.append(Body(f"E-{FIRST_SHEET + index}", page, shapes, title, "", _notes(drawable, left_out), "AS NOTED"))
    return framed("elevation", bodies, results)


def _line_ups(results: Results) -> Iterator[LineUp]:
    """In source order; a board joined to another is drawn with it, at the place of the first."""
    drawn: set[str] = set()
    for gear in results.gear.values():
        if gear.gear_class not in KINDS or gear.tag in drawn or not gear.sections:
            continue
        other = results.gear.get(gear.assembly.joined) if gear.assembly is not None else None
        pair = (gear,) if other is None or not other.sections else _in_order(gear, other)
        drawn.update(each.tag for each in pair)
        yield LineUp(pair)


def _in_order(one: GearResult, other: GearResult) -> tuple[GearResult, GearResult]:
    """The board with the tie section at its right end stands left."""
    return (one, other) if any(section.kind == "tie" for section in one.sections) else (other, one)


def _is_drawable(line_up: LineUp) -> bool:
    return all(section.width_in and section.height_in for _, section in line_up.sections)


def _notes(drawn: Sequence[LineUp], left_out: Sequence[str]) -> tuple[str, ...]:
    text = words("elevation-notes")
    bases = list(dict.fromkeys(each.assembly.basis for one in drawn for each in one.gear if each.assembly is not None))
    found = [text["planning" if basis == PLANNING else "own"].format(basis=capitals(basis)) for basis in bases]
    found += [text["order"], text["device"]]
    if left_out:
        found.append(text["missing"].format(tags=", ".join(left_out)))
    return tuple(found)


def _view(line_up: LineUp, results: Results, paper: Paper) -> View:
    sections = line_up.sections
    wide = sum(section.width_in or 0.0 for _, section in sections) / 12
    high = max(section.height_in or 0.0 for _, section in sections) / 12
    pad = max((each.assembly.pad[2] for each in line_up.gear if each.assembly and each.assembly.pad), default=0.0)
    rows = 3 if any(each.assembly and len(each.assembly.shipping) > 1 for each in line_up.gear) else 2
    head = HEAD_LINES * NOTE_PITCH + 0.15
    foot = rows * ROW + 0.2 + TITLE_LINES * LINE_PITCH * len(line_up.gear) + 0.3
    scale, factor = scale_for(wide, high + pad / 12, (LEFT + 0.6, head + foot), paper)
    inch = factor / 12
    shapes: list[Shape] = []
    x = LEFT
    top = head
    floor = top + high * factor
    edges = [x]
    for gear, section in sections:
        tall = (section.height_in or 0.0) * inch
        width = (section.width_in or 0.0) * inch
        name = f"{gear.tag}.{section.number}" if len(line_up.gear) > 1 else f"{section.number}"
        shapes += section_shapes(gear, section, results, (x, floor - tall, x + width, floor), inch)
        shapes += text_block(head_lines(name, section, width), x + 0.06, 0.0, NOTE_TEXT, NOTE_PITCH, bold_first=True)
        x = round(x + width, 4)
        edges.append(x)
    shapes += _through_bus(line_up, edges, floor, inch)
    if pad:
        side = 4 * inch
        shapes.append(rectangle(LEFT - side, floor, x + side, floor + pad * inch, pen(line_up.gear[0].status).thin))
    base = floor + pad * inch
    shapes += upright(LEFT - 0.35, top, floor, inches_text(high * 12))
    bottom = _dimensions(shapes, line_up, edges, base)
    texts = _title_lines(line_up, scale, max(x - LEFT, LEAST_WIDTH))
    shapes += text_block(texts[:1], LEFT, bottom + 0.20, TITLE_TEXT, bold_first=True)
    shapes += text_block(texts[1:], LEFT, bottom + 0.20 + TITLE_TEXT + 0.10, NOTE_TEXT, NOTE_PITCH)
    height = bottom + 0.20 + TITLE_TEXT + 0.10 + NOTE_PITCH * len(texts)
    width = max(x + 0.6, LEFT + LEAST_WIDTH)
    return View("-".join(each.tag for each in line_up.gear), tuple(shapes), width, height, scale)


def _through_bus(line_up: LineUp, edges: Sequence[float], floor: float, inch: float) -> Iterator[Shape]:
    """The through bus of each board in the free height above the devices, where that height is enough for its text."""
    start = 0
    for gear in line_up.gear:
        last = start + len(gear.sections)
        tall, usable = (gear.sections[0].height_in or 0.0, gear.sections[0].usable_in or 0.0)
        if (tall - usable) * TOP_SHARE >= LEAST_FOR_BUS and gear.bus_a is not None:
            y = round(floor - (tall - BUS_BELOW_TOP) * inch, 4)
            yield line(edges[start] + 2 * inch, y, edges[last] - 2 * inch, y, _BUS)
            text = f"THROUGH BUS {amperes_text(gear.bus_a)} {gear.bus_material.upper()}"
            words_above = label(text, (edges[start] + 2 * inch + 0.05, y - 0.06), TAG_TEXT)
            if words_above.width < edges[start + 1] - edges[start] - 2 * inch - 0.15:
                yield words_above  # else the line under the drawing says it
        start = last


def _dimensions(shapes: list[Shape], line_up: LineUp, edges: Sequence[float], base: float) -> float:
    """Rows of dimensions: sections, pieces for shipping, the whole. Gives the y of the lowest."""
    sections = line_up.sections
    y = base + ROW
    for (_, section), left, right in zip(sections, edges, edges[1:], strict=False):
        shapes += across(left, right, y, inches_text(section.width_in or 0.0))
    start = 0
    if any(each.assembly and len(each.assembly.shipping) > 1 for each in line_up.gear):
        y += ROW
        for gear in line_up.gear:
            pieces = gear.assembly.shipping if gear.assembly is not None else ()
            for piece in pieces or (tuple(section.number for section in gear.sections),):
                last = start + len(piece)
                shapes += across(edges[start], edges[last], y, "SHIPS AS ONE")
                start = last
    y += ROW
    total = sum(section.width_in or 0.0 for _, section in sections)
    shapes += across(edges[0], edges[-1], y, f"{inches_text(total)} ({feet_text(total / 12)})")
    return y


def _title_lines(line_up: LineUp, scale: str, width: float) -> list[str]:
    tags = " AND ".join(capitals(each.tag) for each in line_up.gear)
    lines = [f"{tags}, FRONT ELEVATION, SCALE {scale}"]
    for gear in line_up.gear:
        lines += wrap(capitals(_facts(gear)), width, NOTE_TEXT)
        built = gear.assembly
        if built is not None:
            lines += wrap(capitals(_sizes(built)), width, NOTE_TEXT)
    return lines


def _facts(gear: GearResult) -> str:
    """What the board is, on one line."""
    volts = gear.system.literal if gear.system is not None else "voltage NOT KNOWN"
    bus = f"{amperes_text(gear.bus_a)} {gear.bus_material} through bus" if gear.bus_a is not None else "bus NOT KNOWN"
    rated = (
        f"rated {kiloamperes_text(gear.sccr_a)}" if gear.sccr_a is not None else "short-circuit rating NOT ESTABLISHED"
    )
    enclosure = f"Type {gear.enclosure.removeprefix('Type').strip()}" if gear.enclosure else "enclosure NOT KNOWN"
    return ", ".join(part for part in (f"{gear.tag} {gear.title}".strip(), volts, bus, rated, enclosure) if part)


def _sizes(built: Assembly) -> str:
    entry = f"feed entry {built.feed_entry}" if built.feed_entry else "feed entry not stated"
    depth = f"depth {inches_text(built.depth_in)}" if built.depth_in is not None else ""
    weight = f"weight about {built.weight_lb:,.0f} lb" if built.weight_lb is not None else ""
    pad = f"pad {built.pad[0]:g} x {built.pad[1]:g} x {built.pad[2]:g} in" if built.pad is not None else ""
    return ", ".join(part for part in (depth, weight, pad, f"access {built.access}", entry, *built.notes) if part)
