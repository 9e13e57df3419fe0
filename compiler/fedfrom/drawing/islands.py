"""Islands with more than one source: Graphviz dot places rigid items in ranks, our own router draws the wires.

dot is asked for the order and the x positions only: every item is one node of the exact size with ports at the real
wire positions. Without the program the items keep their declared order.
"""

from __future__ import annotations

import subprocess
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from fedfrom.drawing.block import Block, Placed, Port, compose
from fedfrom.drawing.channels import Link, route
from fedfrom.drawing.layout import Layout
from fedfrom.drawing.scene import Group, Polyline, Shape
from fedfrom.drawing.style import GRID, pen, snap, up

NODE_GAP = 0.45
LANE = 0.20
SECONDS = 60


@dataclass(frozen=True, slots=True)
class Crosswire:
    """A run between two items: where it leaves and where it enters, in the coordinates of each."""

    run: str
    source: int
    target: int
    out: Port
    into: Port


def arcs_between(blocks: Sequence[Block]) -> list[Crosswire]:
    """The runs that leave one block and enter another, in the order of the blocks."""
    entering = {port.run: (index, port) for index, block in enumerate(blocks) for port in block.entries}
    found = []
    for index, block in enumerate(blocks):
        for port in block.drops:
            if port.run in entering:
                target, into = entering[port.run]
                found.append(Crosswire(port.run, index, target, port, into))
    return found


def ranks_of(count: int, arcs: Sequence[Crosswire]) -> tuple[list[int], set[str]]:
    """The rank of every item (longest path from a source), and the runs that would close a circle."""
    ranks = [0] * count
    against: set[str] = set()
    for _ in range(count):
        moved = False
        for arc in arcs:
            if arc.run not in against and ranks[arc.target] < ranks[arc.source] + 1:
                ranks[arc.target] = ranks[arc.source] + 1
                moved = True
        if not moved:
            return ranks, against
    closing = next((arc.run for arc in arcs if arc.run not in against and ranks[arc.source] >= count - 1), None)
    return ranks, {closing} if closing else {arc.run for arc in arcs if arc.source == arc.target}


def island_block(blocks: Sequence[Block], names: Sequence[str], layout: Layout, engine: Path | None) -> Block | None:
    """The block of an island, None where its wires cannot be routed (the caller then ends them in flags)."""
    arcs = arcs_between(blocks)
    ranks, against = ranks_of(len(blocks), arcs)
    if against:
        return None
    grid = Grid.of(blocks, arcs, ranks)
    xs = grid.positions(engine)
    return grid.assembled(xs, names, layout)


@dataclass(slots=True)
class Grid:
    """Items and the lanes of runs that pass a rank, by rank. A cell is an item's index, or a lane (run, rank)."""

    blocks: Sequence[Block]
    arcs: Sequence[Crosswire]
    ranks: list[int]
    rows: list[list[int]]
    lanes: list[tuple[str, int]]

    @classmethod
    def of(cls, blocks: Sequence[Block], arcs: Sequence[Crosswire], ranks: list[int]) -> Grid:
        rows: list[list[int]] = [[] for _ in range(max(ranks) + 1)]
        for index, rank in enumerate(ranks):
            rows[rank].append(index)
        lanes: list[tuple[str, int]] = []
        for arc in arcs:
            for rank in range(ranks[arc.source] + 1, ranks[arc.target]):
                rows[rank].append(len(blocks) + len(lanes))
                lanes.append((arc.run, rank))
        return cls(blocks, arcs, ranks, rows, lanes)

    def extent(self, cell: int) -> tuple[float, float]:
        """Left and right reach of a cell."""
        if cell < len(self.blocks):
            return self.blocks[cell].left, self.blocks[cell].right
        return -LANE / 2, LANE / 2

    def hops(self) -> list[tuple[str, int, float, int, float]]:
        """Every run as hops from rank to rank: (run, upper cell, x there, lower cell, x there)."""
        found = []
        for arc in self.arcs:
            cell, x = arc.source, arc.out.x
            for rank in range(self.ranks[arc.source] + 1, self.ranks[arc.target]):
                lane = len(self.blocks) + self.lanes.index((arc.run, rank))
                found.append((arc.run, cell, x, lane, 0.0))
                cell, x = lane, 0.0
            found.append((arc.run, cell, x, arc.target, arc.into.x))
        return found

    def positions(self, engine: Path | None) -> dict[int, float]:
        """The x of every cell's origin, on the grid."""
        placed = _ask_dot(self, engine)
        if placed is None:
            placed = self._in_order()
        self._straighten(placed)
        self._part_wires(placed)
        return placed

    def _in_order(self) -> dict[int, float]:
        placed: dict[int, float] = {}
        widest = max(sum(self._width(cell) + NODE_GAP for cell in row) for row in self.rows)
        for row in self.rows:
            x = (widest - sum(self._width(cell) + NODE_GAP for cell in row)) / 2
            for cell in row:
                placed[cell] = snap(x - self.extent(cell)[0])
                x += self._width(cell) + NODE_GAP
        return placed

    def _width(self, cell: int) -> float:
        left, right = self.extent(cell)
        return right - left

    def _straighten(self, placed: dict[int, float]) -> None:
        """Shift a lower cell by a small jog where its neighbours leave room."""
        for _, upper, out_x, lower, in_x in self.hops():
            jog = round(placed[upper] + out_x - placed[lower] - in_x, 6)
            if jog and abs(jog) <= 0.50 and self._has_room(lower, jog, placed):
                placed[lower] = round(placed[lower] + jog, 6)

    def _has_room(self, cell: int, shift: float, placed: dict[int, float]) -> bool:
        row = next(row for row in self.rows if cell in row)
        left, right = self.extent(cell)
        for other in row:
            if other == cell:
                continue
            far_left, far_right = self.extent(other)
            if placed[other] < placed[cell]:
                if placed[cell] + shift + left < placed[other] + far_right + 0.2:
                    return False
            elif placed[cell] + shift + right > placed[other] + far_left - 0.2:
                return False
        return True

    def _part_wires(self, placed: dict[int, float]) -> None:
        """Move a whole rank by grid steps until no wire that leaves above stands on one that enters below."""
        for row in self.rows[1:]:
            hops = [hop for hop in self.hops() if hop[3] in row]
            for _ in range(40):
                if not _stacked(hops, placed):
                    break
                cell = _stacked(hops, placed)[0]
                where = sorted(row, key=lambda other: placed[other])
                for other in where[where.index(cell) :]:
                    placed[other] = round(placed[other] + GRID, 6)

    def assembled(self, xs: dict[int, float], names: Sequence[str], layout: Layout) -> Block | None:
        """Items at their places, wires in the channels between the ranks."""
        hops = self.hops()
        points: dict[str, list[tuple[float, float]]] = {arc.run: [] for arc in self.arcs}
        y = 0.0
        tops: list[float] = []
        for rank, row in enumerate(self.rows):
            tops.append(y)
            bottom = up(y + max((self.blocks[cell].bottom for cell in row if cell < len(self.blocks)), default=0.0))
            mine = [hop for hop in hops if hop[1] in row]
            links = [Link(run, xs[u] + out_x, xs[v] + in_x) for run, u, out_x, v, in_x in mine]
            channel = route(links)
            if channel is None:
                return None
            for run, upper, out_x, lower, in_x in mine:
                if upper < len(self.blocks):
                    leaving = next(arc.out.y for arc in self.arcs if arc.run == run)
                    points[run].append((round(xs[upper] + out_x, 6), round(tops[rank] + leaving, 6)))
                track = channel.tracks.get(run)
                if track is not None:
                    level = round(bottom + 0.25 + 0.15 * track, 6)
                    points[run] += [(round(xs[upper] + out_x, 6), level), (round(xs[lower] + in_x, 6), level)]
            y = up(bottom + 0.50 + 0.15 * channel.count)
        return self._drawn(xs, tops, points, names, layout)

    def _drawn(
        self, xs: dict[int, float], tops: list[float], points: dict[str, list[tuple[float, float]]],
        names: Sequence[str], layout: Layout,
    ) -> Block:  # fmt: skip
        own: list[Shape] = []
        for arc in self.arcs:
            end = (round(xs[arc.target] + arc.into.x, 6), round(tops[self.ranks[arc.target]] + arc.into.y, 6))
            strokes = pen(layout.outline.runs[arc.run].status)
            own.append(Group((0.0, 0.0), (Polyline(_clean([*points[arc.run], end]), strokes.wire),), arc.run, "link"))
        placed = []
        for index, block in enumerate(self.blocks):
            inner = Block(block.shapes, block.contour, block.bottom, (), (), block.bars, block.joints)
            placed.append(Placed(inner, xs[index], tops[self.ranks[index]], names[index], "island"))
        return compose(own, placed)


def _clean(points: Sequence[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    """Points without repeats and without corners that are none."""
    kept: list[tuple[float, float]] = []
    for point in points:
        if kept and point == kept[-1]:
            continue
        if len(kept) > 1 and (kept[-2][0] == kept[-1][0] == point[0] or kept[-2][1] == kept[-1][1] == point[1]):
            kept[-1] = point
            continue
        kept.append(point)
    return tuple(kept)


def _stacked(hops: Sequence[tuple[str, int, float, int, float]], placed: dict[int, float]) -> list[int]:
    """Lower cells of runs that enter exactly under another run's exit."""
    found = []
    for run, _, _, lower, in_x in hops:
        x = placed[lower] + in_x
        for other, upper, out_x, _, _ in hops:
            if other != run and abs(placed[upper] + out_x - x) < 0.09:
                found.append(lower)
                break
    return found


def _ask_dot(grid: Grid, engine: Path | None) -> dict[int, float] | None:
    """Positions from dot, None where the program is missing or fails."""
    from fedfrom.drawing.dot import engine_path, source_of

    program = engine or engine_path()
    if program is None:
        return None
    text = source_of(grid)
    try:
        done = subprocess.run(
            [str(program), "-Kdot", "-Tplain"], input=text.encode(), capture_output=True, timeout=SECONDS, check=True
        )
    except (OSError, subprocess.SubprocessError):
        return None
    return _read_plain(done.stdout.decode("utf-8", "replace"), grid)


def _read_plain(text: str, grid: Grid) -> dict[int, float] | None:
    placed: dict[int, float] = {}
    for row in text.splitlines():
        words = row.split()
        if len(words) > 4 and words[0] == "node" and words[1].startswith("n"):
            cell = int(words[1][1:])
            left, right = grid.extent(cell)
            placed[cell] = snap(float(words[2]) - (right - left) / 2 - left)
    expected = {cell for cells in grid.rows for cell in cells}
    return placed if set(placed) == expected else None
