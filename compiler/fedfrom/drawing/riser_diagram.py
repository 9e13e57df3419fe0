"""The riser diagram: storeys from below to above, risers beside each other, feeders between storeys as lines.

`riser_diagram(results, network, model) -> Drawing`; no sheets where fewer than two storeys are known.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from fedfrom.drawing.captions import name_text, system_text
from fedfrom.drawing.floors import Floor
from fedfrom.drawing.outline import Part, Run
from fedfrom.drawing.papers import Paper, paper_named
from fedfrom.drawing.riser_grid import (
    BOX,
    GHOST_FLOOR,
    INSET,
    LANE,
    PAD,
    ROW,
    TRACK,
    Column,
    Seat,
    band_height,
    columns,
    list_depth,
    list_height,
    rows_on,
    tracks,
)
from fedfrom.drawing.riser_parts import (
    LABEL_WIDTH,
    callout_of,
    callout_widths,
    links_among,
    parts_of,
    too_deep,
)
from fedfrom.drawing.riser_plan import Riser, RiserPlan, Twig, plan_risers
from fedfrom.drawing.scene import Drawing, Group, Point, Polyline, Shape
from fedfrom.drawing.shapes import bounds, label, line, rectangle, text_block, union, widest
from fedfrom.drawing.sheet_set import Body, framed, piece
from fedfrom.drawing.style import FRAME_THIN, REFERENCE, TEXT, pen, up
from fedfrom.drawing.symbols import dot
from fedfrom.drawing.words import words
from fedfrom.graph.network import Network
from fedfrom.model.items import Model, Status
from fedfrom.results.notation import amperes_text
from fedfrom.results.types import Results

FIRST_SHEET = 501


def riser_diagram(results: Results, network: Network, model: Model) -> Drawing:
    """Lay out the riser diagram on as many sheets as it takes."""
    plan = plan_risers(results, network, model)
    title = words("titles")["riser"]
    if plan is None:
        return Drawing("riser", title, ())
    paper = paper_named(results.project.sheet_size)
    lines = {key: _box_lines(plan.drawn.parts[key], plan, results, network) for key in _every_key(plan)}
    heads: set[str] = set()
    while deep := too_deep(plan, lines, paper) - heads:
        heads |= deep
        plan = plan_risers(results, network, model, heads) or plan
    parts = parts_of(plan, lines, paper)
    numbers = [f"E-{FIRST_SHEET + index}" for index in range(len(parts))]
    home = {
        riser.head.key: number
        for number, (floors, risers) in zip(numbers, parts, strict=True)
        for riser in risers
        if any(floor.name == riser.floor for floor in floors)
    }
    bodies = []
    for index, (number, (floors, risers)) in enumerate(zip(numbers, parts, strict=True)):
        shown = _Sheet(plan, floors, risers, lines, home, paper.room[0]).shapes()
        grown = _grown(paper, shown[1], shown[2])
        left, top, right, bottom = grown.area
        at = (round((left + right - shown[1]) / 2, 2), round((top + bottom - shown[2]) / 2, 2))
        subtitle = f"SHEET {index + 1}" if len(parts) > 1 else ""
        notes = tuple(words("riser-notes").values())
        bodies.append(Body(number, grown, (piece("riser", shown[0], at),), title, subtitle, notes))
    return framed("riser", bodies, results)


def _grown(paper: Paper, width: float, height: float) -> Paper:
    """The sheet, grown in whole inches where one riser alone is wider."""
    from dataclasses import replace
    from math import ceil

    more_x, more_y = max(0, ceil(width - paper.room[0])), max(0, ceil(height - paper.room[1]))
    if not more_x and not more_y:
        return paper
    wide, high = paper.width + more_x, paper.height + more_y
    return replace(paper, name=f"{high:g} x {wide:g}", width=wide, height=high)


def _every_key(plan: RiserPlan) -> list[str]:
    keys: list[str] = []
    pending = [twig for riser in plan.risers for twig in (riser.head, *(served[2] for served in riser.served))]
    while pending:
        twig = pending.pop()
        keys.append(twig.key)
        pending += twig.children
    return keys


def _box_lines(part: Part, plan: RiserPlan, results: Results, network: Network) -> tuple[str, ...]:
    """Tag with its status, a star where the storey was inferred; rating and voltage."""
    star = "" if plan.places[part.key].stated else " *"
    return (name_text(part.key, part.status) + star, _rating(part.key, results, network))


def _rating(tag: str, results: Results, network: Network) -> str:
    volts = system_text(network.nodes[tag].system).partition(",")[0]
    if tag in results.gear:
        bus = results.gear[tag].bus_a
        return f"{amperes_text(bus)}, {volts}" if bus is not None else f"BUS NOT KNOWN, {volts}"
    if tag in results.transformers:
        kva = results.transformers[tag].kva
        return f"{kva:g} kVA, {volts}" if kva is not None else f"kVA NOT KNOWN, {volts}"
    if tag in results.transfers:
        found = results.transfers[tag]
        poles = f", {found.poles}P" if found.poles else ""
        return f"{amperes_text(found.rating_a)}{poles}" if found.rating_a is not None else "RATING NOT KNOWN"
    return volts


@dataclass(slots=True)
class _Tap:
    """A feeder's end at another storey: the run, y and x where it ends; `box` it ends at a box, not in the channel."""

    run: Run
    y: float
    x: float
    box: bool


class _Sheet:
    """One sheet of the diagram, in coordinates of its own from (0, 0)."""

    def __init__(
        self, plan: RiserPlan, floors: Sequence[Floor], risers: Sequence[Riser], lines: Mapping[str, tuple[str, ...]],
        home: Mapping[str, str], room: float,
    ) -> None:  # fmt: skip
        self.plan = plan
        self.floors = list(floors)
        self.names = {floor.name for floor in floors}
        self.risers = list(risers)
        self.home = home
        self.room = room
        self.lines = dict(lines)
        here = {riser.head.key for riser in risers if riser.floor in self.names}
        self.links = [run for run in links_among(risers, plan) if run.source in here and run.target in here]
        drawn = {run.id for run in self.links}
        for riser in risers:
            missing = [run for run in plan.links if run.target == riser.head.key and run.id not in drawn]
            if missing and riser.head.key in here:
                names = ", ".join(f"{run.source} ({home.get(run.source, '')})" for run in missing)
                self.lines[riser.head.key] = (self.lines[riser.head.key][0], f"FROM {names}")
            elif riser.head.key not in here:
                self.lines[riser.head.key] = (self.lines[riser.head.key][0], f"SEE {home.get(riser.head.key, '')}")
        self.columns = columns(self.risers, self.lines, self.links, callout_widths(self.risers))
        for column in self.columns:
            self._shift(column, LABEL_WIDTH)
        self.seats: dict[str, Seat] = {}
        self.exits: dict[str, float] = {}
        self.entries: dict[str, float] = {}
        self.rows: dict[str, list[float]] = {}
        self.track_y: dict[str, float] = {}
        self.out: list[Shape] = []

    @staticmethod
    def _shift(column: Column, by: float) -> None:
        column.left = round(column.left + by, 6)
        column.shaft = round(column.shaft + by, 6)
        column.right = round(column.right + by, 6)
        column.starts = [round(start + by, 6) for start in column.starts]

    def shapes(self) -> tuple[list[Shape], float, float]:
        """Shapes, width and height."""
        width = self.columns[-1].right + 0.20
        self._ports()
        height = self._bands(width)
        for column in self.columns:
            self._seat_riser(column, height)
        for seat in self.seats.values():
            self._box(seat)
        for column in self.columns:
            self._lanes(column)
        below = self._feeders(height + 0.35)
        return self.out, max(width, union(bounds(shape) for shape in self.out)[2]), height + below

    def _ports(self) -> None:
        """Where wires of the channel meet the lower edge of a head: entries, then exits, from its right end."""
        for column in self.columns:
            key = column.riser.head.key
            x = round(column.left + column.head_width - 0.10, 6)
            for run in self.links:
                if run.source == key and not self._crosses(run):
                    self.exits[run.id] = x
                    x = round(x - LANE, 6)
            for run in self.links:
                if run.target == key:
                    self.entries[run.id] = x
                    x = round(x - LANE, 6)

    def _feeders(self, top: float) -> float:
        """The list of feeders between risers, whose lines have no room for words. Returns the height that it takes."""
        here = {column.riser.head.key for column in self.columns if column.riser.floor in self.names}
        rows = [self._feeder(run, here) for run in self.plan.links if run.source in here or run.target in here]
        if not rows:
            return 0.0
        deep = list_depth(len(rows), self.room)
        wide = up(widest(rows, TEXT) + 0.40)
        self.out.append(label(words("riser")["feeders"], (0.05, top + TEXT), TEXT, True))
        for start in range(0, len(rows), deep):
            x = 0.05 + wide * (start // deep)
            self.out.extend(text_block(rows[start : start + deep], x, top + 0.22))
        return round(0.35 + list_height(len(rows), self.room), 6)

    def _feeder(self, run: Run, here: Collection[str]) -> str:
        """ "MSB TO ATS-1 (E-502): 4-3/0 AWG …"; the sheet where an end stands on another one."""
        ends = [key if key in here else f"{key} ({self.home.get(key, '')})" for key in (run.source, run.target)]
        what = "" if run.plain else ": " + ", ".join(callout_of(run))
        return f"{' TO '.join(ends)}{what}"

    def _crosses(self, run: Run) -> bool:
        return self.plan.places[run.source].name != self.plan.places[run.target].name

    def _bands(self, width: float) -> float:
        """Rows and tracks of every storey, and the lines between storeys. Returns the whole height."""
        y = GHOST_FLOOR if self._ghosts(above=True) else 0.0
        across = {id(column.riser): column.left for column in self.columns}
        for floor in self.floors:
            count = rows_on(floor.name, self.risers)
            links = [run for run in self.links if self.plan.places[run.target].name == floor.name]
            left = {riser.head.key: across[id(riser)] for riser in self.risers}
            spans = [(run.id, self.exits.get(run.id, left[run.source]), self.entries[run.id]) for run in links]
            given, channel = tracks(spans)
            self.out.append(line(0, y, width, y, FRAME_THIN))
            self.out.append(label(floor.name, (0.05, y + 0.20), TEXT, True))
            self.rows[floor.name] = [round(y + PAD + ROW * (row + 0.5), 6) for row in range(count)]
            base = y + PAD + ROW * count
            for name, track in given.items():
                self.track_y[name] = round(base + TRACK * track, 6)
            y = round(y + band_height(count, channel), 6)
        self.out.append(line(0, y, width, y, FRAME_THIN))
        return y + (GHOST_FLOOR if self._ghosts(above=False) else 0.0)

    def _ghosts(self, above: bool) -> bool:
        """Whether a riser comes from a storey above (below) those of this sheet."""
        return any(self._ghost_above(riser) is above for riser in self.risers if riser.floor not in self.names)

    def _ghost_above(self, riser: Riser) -> bool:
        return self.plan.places[riser.head.key].height > self.floors[0].height

    def _seat_riser(self, column: Column, height: float) -> None:
        riser = column.riser
        if riser.floor in self.names:
            rows = self.rows[riser.floor]
            self._seat(riser.head, column, -1, len(rows) - riser.head.rows, riser.floor)
        else:
            y = 0.45 if self._ghost_above(riser) else height - 0.45
            self._add(riser.head.key, column.left, y, column.head_width, ghost=True)
        used: dict[str, int] = {}
        for floor, _, twig in riser.served:
            if floor in self.names:
                first = used.get(floor, 0)
                self._seat(twig, column, 0, first, floor)
                used[floor] = first + twig.rows

    def _add(self, key: str, x: float, y: float, width: float, ghost: bool = False) -> Seat:
        seat = self.seats[key] = Seat(key, x, y, width, self.lines[key], ghost)
        return seat

    def _seat(self, twig: Twig, column: Column, depth: int, first: int, floor: str) -> Seat:
        """Seat a tree: a head in its last row, anything else in its first; then the wires to its children."""
        rows = self.rows[floor]
        if depth < 0:
            own = self._add(twig.key, column.left, rows[first + twig.rows - 1], column.head_width)
        else:
            own = self._add(twig.key, column.starts[depth], rows[first], column.widths[depth])
        row = first
        children = []
        for child in twig.children:
            children.append(self._seat(child, column, depth + 1, row, floor))
            row += child.rows
        self._twigs(own, children)
        return own

    def _twigs(self, own: Seat, children: Sequence[Seat]) -> None:
        """From a box to what it feeds on its storey."""
        if not children:
            return
        wire = pen(Status.NEW).wire
        spine = round(children[0].x - 0.18, 6)
        ys = sorted({own.y, *(child.y for child in children)})
        shapes: list[Shape] = []
        if len(ys) > 1:
            shapes.append(line(spine, ys[0], spine, ys[-1], wire))
        if own.y in [child.y for child in children]:
            mate = next(child for child in children if child.y == own.y)
            shapes.append(line(own.right, own.y, mate.x, own.y, wire))
        else:
            shapes.append(line(own.right, own.y, spine, own.y, wire))
        shapes += [line(spine, child.y, child.x, child.y, wire) for child in children if child.y != own.y]
        level = {child.y for child in children}
        tees = [y for y in ys if (y not in (ys[0], ys[-1]) or (y == own.y and y in level)) and len(ys) > 1]
        shapes += [dot(spine, y, wire, 0.028) for y in tees]
        self.out.append(Group((0.0, 0.0), tuple(shapes), f"{own.key}.local", "local"))

    def _box(self, seat: Seat) -> None:
        part = self.plan.drawn.parts[seat.key]
        stroke = REFERENCE if seat.ghost else pen(part.status).box
        top = round(seat.y - BOX / 2, 6)
        shapes: list[Shape] = [rectangle(0, 0, seat.width, BOX, stroke)]
        shapes += text_block(seat.lines, INSET, (BOX - 0.255) / 2, bold_first=True)
        self.out.append(Group((seat.x, top), tuple(shapes), seat.key, "box"))

    def _lanes(self, column: Column) -> None:
        """Feeders to other storeys, the nearest one in the rightmost lane; then wires through the channels."""
        head = self.seats[column.riser.head.key]
        taps = [
            _Tap(run, self.seats[twig.key].y, self.seats[twig.key].x, True)
            for floor, run, twig in column.riser.served
            if floor in self.names
        ]
        mine = [run for run in self.links if run.source == head.key]
        taps += [_Tap(run, self.track_y[run.id], self.entries[run.id], False) for run in mine if self._crosses(run)]
        for upward in (True, False):
            side = sorted((tap for tap in taps if (tap.y < head.y) is upward), key=lambda tap: abs(tap.y - head.y))
            for rank, tap in enumerate(side):
                self._lane(tap, round(column.shaft - LANE * rank, 6), head, upward)
        for run in mine:
            if not self._crosses(run):
                y = self.track_y[run.id]
                points = [(self.exits[run.id], head.y + BOX / 2), (self.exits[run.id], y), (self.entries[run.id], y)]
                self._link(run, [*points, self._under(run.target, self.entries[run.id])])

    def _under(self, key: str, x: float) -> Point:
        return (x, round(self.seats[key].y + BOX / 2, 6))

    def _lane(self, tap: _Tap, x: float, head: Seat, upward: bool) -> None:
        start = (x, round(head.y - BOX / 2 if upward else head.y + BOX / 2, 6))
        points = [start, (x, tap.y), (tap.x, tap.y)]
        if not tap.box:
            points.append(self._under(tap.run.target, tap.x))
        self._link(tap.run, points)
        if tap.box:
            above, below = callout_of(tap.run)
            at = round(tap.x - 0.12, 6)
            self.out.append(label(above, (at, tap.y - 0.05), TEXT, anchor="end"))
            self.out.append(label(below, (at, tap.y + 0.05 + TEXT), TEXT, anchor="end"))

    def _link(self, run: Run, points: Sequence[Point]) -> None:
        wire = pen(run.status).wire
        self.out.append(Group((0.0, 0.0), (Polyline(tuple(points), wire),), run.id, "link"))
