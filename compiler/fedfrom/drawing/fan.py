"""What hangs under one point: the columns of its runs with their load ends, packed side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fedfrom.drawing import contour
from fedfrom.drawing.block import Block, Placed, Port, compose, leaf, with_joint
from fedfrom.drawing.columns import Column, Slots, column_shapes, prepare, slots_for
from fedfrom.drawing.contour import Contour
from fedfrom.drawing.equipment import flag, flag_height, turned_flag
from fedfrom.drawing.layout import SEGMENT, Layout
from fedfrom.drawing.lettering import printable, wrap
from fedfrom.drawing.outline import Run
from fedfrom.drawing.shapes import bounds
from fedfrom.drawing.style import TEXT, up

PITCH = 0.50
FLAG_WIDTH = 1.30
WIRE_LANE = 0.07


@dataclass(frozen=True, slots=True)
class Fan:
    """Columns side by side: their blocks, the x of their trunks (0 is free to choose), the common slots."""

    runs: tuple[Run, ...]
    blocks: tuple[Block, ...]
    trunks: tuple[float, ...]
    slots: Slots


def fan(
    runs: Sequence[Run], layout: Layout, turned: bool = False, on_bus: bool = True, first: Sequence[Block] = ()
) -> Fan:
    """Build and pack columns. `first` are blocks without a run that stand left of them (surge device, ground)."""
    least = max((block.bottom for block in first), default=0.0)
    ready = [prepare(run, layout.insulation, turned) for run in runs]
    slots = slots_for(ready, on_bus, least)
    columns = [_column_block(column, slots, layout) for column in ready]
    blocks = (*first, *columns)
    trunks = contour.pack([block.contour for block in blocks], PITCH)
    return Fan(tuple(runs), blocks, trunks, slots)


def _column_block(column: Column, slots: Slots, layout: Layout) -> Block:
    run = column.run
    below = layout.block(run.target) if (run.tag or run.plain) and layout.is_tree(run) else None
    made_from = (run, column.turned, slots, run.id in layout.cut, below)
    known = layout.columns.get(run.id)
    if known is not None and known[0][-1] is below and known[0][0] is run and known[0][:-1] == made_from[:-1]:
        return known[1]
    block = _new_column_block(column, slots, layout)
    layout.columns[run.id] = (made_from, block)
    return block


def _new_column_block(column: Column, slots: Slots, layout: Layout) -> Block:
    run = column.run
    own = column_shapes(column, slots)
    if not run.tag and not run.plain:
        return leaf(own, slots.device)
    y = round(slots.device + slots.feeder, 6)
    block = compose(own, [Placed(load_end(run, layout, column.turned), 0.0, y, run.target, "fed")])
    return with_joint(block, run.id, y) if layout.is_tree(run) else block


def load_end(run: Run, layout: Layout, turned: bool = False) -> Block:
    """What stands at the load end of a run: a flag, a wire that goes on, or the part with all below it."""
    if run.id in layout.cut:
        return flag_block(run, layout, turned)
    if run.id in layout.links:
        lane = Contour(0, (), (), (-WIRE_LANE, WIRE_LANE))
        return Block((), lane, 0.0, (Port(run.id, 0.0, 0.0),))
    return layout.block(run.target)


def flag_block(run: Run, layout: Layout, turned: bool = False) -> Block:
    """The flag at the source end of a cut run."""
    lines = flag_lines(printable(run.target), run)
    end = f"{run.id}|in" if run.point == "tie end" else f"{run.id}|out"
    symbol = turned_flag(lines, end) if turned else flag(lines, end)
    return leaf((symbol,), up(bounds(symbol)[3]))


def flag_lines(name: str, run: Run) -> tuple[str, ...]:
    """The name lines of a flag: the tag, and which input it is where that matters."""
    if SEGMENT in name:
        return (*wrap(name.partition(SEGMENT)[0], FLAG_WIDTH, TEXT, True), "BUS")
    word = {"emergency from": "EMERGENCY", "alternate from": "ALTERNATE", "bypass from": "BYPASS"}.get(run.verb, "")
    return (*wrap(name, FLAG_WIDTH, TEXT, True), *([word] if word else []))


def input_flag(run: Run, layout: Layout) -> Block:
    """The flag at the load end of a cut run; its point is at (0, bottom)."""
    lines = input_flag_lines(run)
    symbol = flag(lines, f"{run.id}|in")
    return leaf((symbol,), flag_height(len(lines)))


def input_flag_lines(run: Run) -> tuple[str, ...]:
    """The name lines of the flag where a cut run arrives: the board that it comes from and its circuit there."""
    if run.verb == "bus":
        return (*wrap(printable(run.source.partition(SEGMENT)[0]), FLAG_WIDTH, TEXT, True), "BUS")
    circuit = f" CKT {run.circuit}" if run.circuit else ""
    return wrap(f"{printable(run.source.partition(SEGMENT)[0])}{circuit}", FLAG_WIDTH, TEXT, True)
