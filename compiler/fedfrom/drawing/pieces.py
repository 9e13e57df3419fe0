"""Pieces: what stands together on one sheet. What is too large is cut at feeder ends, never scaled down.

Order of measures: detach all gear-carrying feeders of one bus; end wires between items in flags; turn the text of the
widest board; continue its bus in a second row. A piece that still does not fit gets a larger sheet.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil
from pathlib import Path

from fedfrom.drawing.block import Block
from fedfrom.drawing.fan import fan
from fedfrom.drawing.islands import arcs_between, island_block
from fedfrom.drawing.layout import SEGMENT, Layout
from fedfrom.drawing.lineup import item_block
from fedfrom.drawing.outline import Part, Run
from fedfrom.drawing.wiring import Item, items, sort_runs, tree

FLAG_ROOM = 0.80
ROUNDS = 400
ROW_ENDS = 5.0
"""Width in inches that a row of a continued bus loses at its ends: label, last column, flag."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A block for one place on a sheet. `key` names it; `head` it is a source's piece from which others were cut.

    `pin` is the number of the sheet that the text pins it to, 0 for none.
    """

    key: str
    block: Block
    head: bool
    pin: int = 0


@dataclass(slots=True)
class _Group:
    """Items joined by wires that are not cut."""

    members: list[int]
    block: Block | None


def pieces(layout: Layout, width: float, height: float, engine: Path | None) -> list[Piece]:
    """All pieces, each within `width` x `height` inches where that can be reached."""
    pins = _pins(layout)
    for _ in range(ROUNDS):
        sort_runs(layout)
        found = items(layout)
        blocks = [item_block(item, layout) for item in found]
        groups = _groups(found, blocks, layout, engine)
        changed = [_reduce(group, found, blocks, layout, width, height) for group in groups]
        if not any(changed):
            break
    return [replace(piece, pin=_pin_of(piece, pins, layout)) for piece in _ordered(groups, found, blocks, layout)]


def _pins(layout: Layout) -> dict[str, int]:
    """What the text pins to a sheet; it is cut from what feeds it, so that it can stand there."""
    pins: dict[str, int] = {}
    for key in layout.outline.parts:
        node = layout.network.nodes.get(key)
        fact = node.item.facts.first("sheet") if node is not None else None
        number = fact.values.get("sheet") if fact is not None else None
        if isinstance(number, int):
            pins[key] = number
            _cut(layout.inputs(key), layout)
            layout.forget(key)
    return pins


def _pin_of(piece: Piece, pins: Mapping[str, int], layout: Layout) -> int:
    return next((pins[key] for key in (piece.key, *tree(piece.key, layout)) if key in pins), 0) if pins else 0


def _groups(found: list[Item], blocks: list[Block], layout: Layout, engine: Path | None) -> list[_Group]:
    parent = list(range(len(found)))

    def top(index: int) -> int:
        while parent[index] != index:
            index = parent[index]
        return index

    arcs = arcs_between(blocks)
    for arc in arcs:
        parent[max(top(arc.source), top(arc.target))] = min(top(arc.source), top(arc.target))
    gathered: dict[int, list[int]] = {}
    for index in range(len(found)):
        gathered.setdefault(top(index), []).append(index)
    groups = []
    for members in gathered.values():
        inner = [blocks[index] for index in members]
        if len(members) == 1 and not arcs_between(inner):
            groups.append(_Group(members, inner[0]))
        else:
            names = [found[index].roots[0] for index in members]
            groups.append(_Group(members, island_block(inner, names, layout, engine)))
    return groups


def size(block: Block) -> tuple[float, float]:
    """Width and height of a block in inches."""
    return block.right - block.left, block.bottom - min(block.top, 0.0)


def _reduce(group: _Group, found: list[Item], blocks: list[Block], layout: Layout, width: float, height: float) -> bool:
    """Make a group smaller by one measure if it does not fit. True when something was decided."""
    members = [found[index] for index in group.members]
    if group.block is None:
        return _cut_links(members, layout)
    wide, high = size(group.block)
    if wide <= width and high <= height:
        return False
    keys = [key for item in members for root in item.roots for key in tree(root, layout)]
    if wide > width and _cut_widest(keys, layout):
        return True
    if high > height and wide <= width and _cut_lowest(group.block, keys, layout, height):
        return True
    if _cut_links(members, layout):
        return True
    if wide > width and _turn(group.block, keys, layout):
        return True
    if wide > width:
        return _continue(group.block, keys, layout, width)
    return _cut_any(keys, layout)


def _carries(run: Run, layout: Layout) -> bool:
    """Whether a run feeds gear that has something below it of its own, drawn here."""
    part = layout.outline.parts[run.target]
    return (
        layout.is_tree(run)
        and part.kind in ("board", "transformer", "transfer")
        and bool(layout.outlets(run.target))
        and layout.inputs(run.target)[:1] == (run,)
    )


def _cuttable(key: str, layout: Layout) -> list[Run]:
    return [run for run in layout.outlets(key) if _carries(run, layout)]


def _cut(runs: Sequence[Run], layout: Layout) -> bool:
    for run in runs:
        layout.cut.add(run.id)
        layout.forget(run.source)
    return bool(runs)


def _cut_widest(keys: Sequence[str], layout: Layout) -> bool:
    """Detach all gear-carrying feeders of the bus that has most of them (equal treatment; the first one of equals).

    A chain, where every bus has one, is cut in its middle.
    """
    kinds = ("board", "row", "transformer", "transfer")
    found = [_cuttable(key, layout) for key in keys if layout.outline.parts[key].kind in kinds]
    most = max((len(runs) for runs in found), default=0)
    best = [runs for runs in found if runs and len(runs) == most]
    if not best:
        return False
    runs = best[len(best) // 2] if most == 1 else best[0]
    if most == 1 and len(layout.outlets(runs[0].source)) == 1:
        return False
    return _cut(runs, layout)


def _cut_lowest(block: Block, keys: Sequence[str], layout: Layout, height: float) -> bool:
    """Detach below the lowest board that still fits with its flags, on a path that reaches too far down."""
    best: tuple[float, str] | None = None
    for key in keys:
        for run in _cuttable(key, layout):
            y = block.joints.get(run.id)
            if y is None or layout.outline.parts[key].kind == "source":
                continue
            if (
                y + layout.block(run.target).bottom > height
                and y + FLAG_ROOM <= height
                and (best is None or y > best[0])
            ):
                best = (y, key)
    return best is not None and _cut(_cuttable(best[1], layout), layout)


def _cut_any(keys: Sequence[str], layout: Layout) -> bool:
    return next((True for key in keys if _cut(_cuttable(key, layout), layout)), False)


def _cut_links(members: Sequence[Item], layout: Layout) -> bool:
    """End the wires between items in flags: second sources first, then normal ones."""
    roots = [root for item in members for root in item.roots]
    keys = [key for root in roots for key in tree(root, layout)]
    beside = {run.id for runs in layout.beside.values() for run in runs}
    entering = [run for key in keys for run in layout.inputs(key) if run.id in layout.links and run.id not in beside]
    second = [run for run in entering if layout.inputs(run.target)[0] is not run]
    chosen = second or entering
    for run in chosen:
        layout.cut.add(run.id)
        layout.forget(run.source)
        layout.forget(run.target)
    return bool(chosen)


def _turn(block: Block, keys: Sequence[str], layout: Layout) -> bool:
    """Turn the text of the widest board whose text still lies."""
    spans = [
        (block.bars[key].box[2] - block.bars[key].box[0], -index, key)
        for index, key in enumerate(keys)
        if key in block.bars and key not in layout.turned and len(layout.outlets(key)) > 2
    ]
    if not spans:
        return False
    key = max(spans)[2]
    layout.turned.add(key)
    for run in layout.outlets(key):
        layout.forget(run.target)
    layout.forget(key)
    return True


def _continue(block: Block, keys: Sequence[str], layout: Layout, width: float) -> bool:
    """Let the bus of the widest board go on in a further row."""
    spans = [
        (block.bars[key].right - block.bars[key].left, -index, key)
        for index, key in enumerate(keys)
        if key in block.bars
    ]
    key = max(spans)[2] if spans else ""
    runs = layout.outlets(key) if key else ()
    if len(runs) < 3:
        return False
    trunks = fan(runs, layout, key in layout.turned).trunks
    count = max(2, ceil((trunks[-1] - trunks[0]) / (width - ROW_ENDS)))
    share = (trunks[-1] - trunks[0]) / count
    # Rows of about equal length; each has two outlets at least.
    cuts: list[int] = []
    for index, x in enumerate(trunks):
        if x - trunks[0] > share * (len(cuts) + 1) and index > (cuts[-1] if cuts else 0) + 1 and index < len(runs) - 1:
            cuts.append(index)
    for first in reversed(cuts or [len(runs) // 2]):
        _split_row(key, first, layout)
    return True


def _split_row(key: str, first: int, layout: Layout) -> None:
    """Move the outlets from number `first` on to a new row that hangs on the old one by a pair of flags."""
    outline = layout.outline
    runs = layout.outlets(key)
    board = key.partition(SEGMENT)[0]
    number = next(n for n in range(2, len(outline.parts) + 3) if f"{board}{SEGMENT}{n}" not in outline.parts)
    row = f"{board}{SEGMENT}{number}"
    status = outline.parts[key].status
    bridge = Run(row, key, row, "bus", note="BUS CONTINUED", plain=True, status=status)
    moved = tuple(replace(run, source=row) for run in runs[first:])
    parts = {**outline.parts, row: Part(row, "row", status)}
    below = {**outline.below, key: (*runs[:first], bridge), row: moved}
    above = {**outline.above, row: (bridge,)}
    renewed = {run.id: run for run in moved}
    for run in moved:
        above[run.target] = tuple(renewed.get(old.id, old) for old in above[run.target])
        layout.forget(run.target)
    every = {**outline.runs, **renewed, row: bridge}
    layout.outline = replace(outline, parts=parts, below=below, above=above, runs=every)
    layout.cut.add(row)
    if key in layout.turned:
        layout.turned.add(row)
    layout.forget(key)


def _ordered(groups: list[_Group], found: list[Item], blocks: list[Block], layout: Layout) -> list[Piece]:
    """Every head, followed by what was cut from it, level by level, in declared order."""
    by_root = {
        root: group_index for group_index, group in enumerate(groups) for i in group.members for root in found[i].roots
    }
    below: dict[int, list[int]] = {}
    fed: set[int] = set()
    for index, group in enumerate(groups):
        keys = [key for i in group.members for root in found[i].roots for key in tree(root, layout)]
        for key in keys:
            # A bus that goes on stands next to its first row.
            for run in sorted(layout.outlets(key), key=lambda run: run.verb != "bus"):
                child = by_root.get(run.target)
                if (
                    run.id in layout.cut
                    and child is not None
                    and child != index
                    and layout.inputs(run.target)[0] is run
                ):
                    below.setdefault(index, []).append(child)
                    fed.add(child)
    order: list[int] = []
    starts = [index for index in range(len(groups)) if index not in fed]
    for start in [*starts, *range(len(groups))]:
        queue = [start]
        while queue:
            index = queue.pop(0)
            if index not in order:
                order.append(index)
                queue += below.get(index, [])
    result = []
    for index in order:
        block = groups[index].block
        root = found[groups[index].members[0]].roots[0]
        if block is None:
            result += [Piece(found[i].roots[0], blocks[i], False) for i in groups[index].members]
        else:
            result.append(Piece(root, block, index in below and index not in fed))
    return result
