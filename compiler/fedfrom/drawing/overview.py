"""The overview sheet: the whole system in small boxes with the sheet and zone of each, where the one-line is long."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from fedfrom.drawing import contour
from fedfrom.drawing.block import Block, Placed, compose, leaf
from fedfrom.drawing.captions import name_text
from fedfrom.drawing.outline import Outline, Run
from fedfrom.drawing.papers import Paper
from fedfrom.drawing.scene import Group, Shape
from fedfrom.drawing.shapes import groups, line, rectangle, text_block, widest
from fedfrom.drawing.style import LINE_PITCH, TEXT, pen, snap, up
from fedfrom.drawing.symbols import dot
from fedfrom.model.items import Status
from fedfrom.results.notation import amperes_text
from fedfrom.results.types import Results

LEAST_SHEETS = 4
"""From so many sheets on a one-line has an overview."""
NAMED = frozenset({"piece", "fed", "source", "island", "root"})
"""Kinds of groups whose id is the part that stands in them."""
SHOWN = frozenset({"source", "board", "transformer", "transfer"})
MOST_BOXES = 60
LINE = 0.20
DROP = 0.30
LEVELS = tuple((boxes, lists, lines) for boxes in range(6, -1, -1) for lists in (6, 3, 1, 0) for lines in (18, 36))
"""(levels in boxes, levels in lists, lines of a list), the fullest first."""


@dataclass(frozen=True, slots=True)
class _Tree:
    """Everything that the recursive layout needs; `deepest` is the level below which only lists are drawn;
    these show `nested` levels in about `lines` lines each."""

    drawn: Outline
    results: Results
    places: Mapping[str, tuple[str, str]]
    children: Mapping[str, tuple[str, ...]]
    deepest: int
    nested: int
    lines: int


def places_of(sheets: Iterable[tuple[str, Paper, Sequence[Shape]]]) -> dict[str, tuple[str, str]]:
    """Where every part is drawn: key -> (sheet, zone)."""
    found: dict[str, tuple[str, str]] = {}
    for number, paper, shapes in sheets:
        for group, (x, y) in groups(shapes):
            if group.kind not in NAMED or not group.id or group.id in found:
                continue
            if not any(isinstance(shape, Group) and shape.kind == "flag" for shape in group.shapes):
                found[group.id] = (number, paper.zone(x, y))
    return found


def overview(
    drawn: Outline, results: Results, places: Mapping[str, tuple[str, str]], paper: Paper
) -> tuple[Group, ...]:
    """The overview as pieces on the paper. Levels that find no room become lists, then numbers."""
    width, height = paper.room
    roots, children = _forest(drawn)
    sizes = _boxes_by_level(roots, children)
    rows: list[list[Block]] = []
    high = 0.0
    for deepest, nested, lines in LEVELS:
        if deepest and sum(sizes[: deepest + 1]) > MOST_BOXES:
            continue
        tree = _Tree(drawn, results, places, children, deepest, nested, lines)
        blocks = [_block(root, tree, 0) for root in roots]
        rows = _rows(blocks, width)
        high = sum(max(_high(block) for block in row) + 0.5 for row in rows) - 0.5
        if high <= height and all(block.right - block.left <= width for block in blocks):
            break
    return _placed(rows, paper, high)


def _forest(drawn: Outline) -> tuple[list[str], dict[str, tuple[str, ...]]]:
    """What has no supply that is shown, and what hangs on each part first of all."""
    children: dict[str, list[str]] = {key: [] for key, part in drawn.parts.items() if part.kind in SHOWN}
    roots = []
    for key in children:
        above = [run.source for run in drawn.above.get(key, ()) if run.source in children]
        if above:
            children[above[0]].append(key)
        else:
            roots.append(key)
    return roots, {key: tuple(found) for key, found in children.items()}


def _boxes_by_level(roots: Sequence[str], children: Mapping[str, tuple[str, ...]]) -> list[int]:
    """How many things that feed others stand on each level."""
    counts: list[int] = []
    level = list(roots)
    while level and len(counts) <= len(children):
        counts.append(len(level))
        level = [child for key in level for child in children[key] if children[child]]
    return counts


def _high(block: Block) -> float:
    return block.bottom - min(block.top, 0.0)


def _rows(blocks: Sequence[Block], width: float) -> list[list[Block]]:
    rows: list[list[Block]] = []
    used = width + 1.0
    for block in blocks:
        wide = block.right - block.left
        if used + 0.6 + wide > width:
            rows.append([])
            used = -0.6
        rows[-1].append(block)
        used += 0.6 + wide
    return rows


def _placed(rows: Sequence[Sequence[Block]], paper: Paper, high: float) -> tuple[Group, ...]:
    left, top, right, bottom = paper.area
    y = top + max(0.0, (bottom - top - high) / 2)
    found = []
    for row in rows:
        wide = sum(block.right - block.left + 0.6 for block in row) - 0.6
        x = left + max(0.0, (right - left - wide) / 2)
        for block in row:
            at = (snap(x - block.left), snap(y - min(block.top, 0.0)))
            found.append(Group(at, block.shapes, "overview", "piece"))
            x += block.right - block.left + 0.6
        y += max(_high(block) for block in row) + 0.5
    return tuple(found)


def _block(key: str, tree: _Tree, level: int) -> Block:
    """A box with what it feeds below: boxes for what feeds more, lists for the rest."""
    box, height = _box(key, tree)
    below = tree.children[key]
    boxed = [child for child in below if tree.children[child] and level < tree.deepest]
    listed = [child for child in below if child not in boxed]
    inner = [_block(child, tree, level + 1) for child in boxed]
    inner += [_list(entries, tree) for entries in _stacks(listed, tree)]
    if not inner:
        return leaf(box, height)
    xs = contour.pack([block.contour for block in inner], 0.5)
    trunk = snap((xs[0] + xs[-1]) / 2)
    xs = tuple(round(x - trunk, 6) for x in xs)
    wire = pen(Status.NEW).wire
    bus = up(height + DROP / 2)
    own: list[Shape] = [*box, line(0, height, 0, bus, wire)]
    if len(xs) > 1:
        own.append(line(xs[0], bus, xs[-1], bus, wire))
        own += [dot(x, bus, wire, 0.028) for x in sorted({0.0, *xs[1:-1]})]
    foot = up(bus + DROP / 2)
    own += [line(x, bus, x, foot, wire) for x in xs]
    return compose(own, [Placed(block, x, foot, "", "below") for block, x in zip(inner, xs, strict=True)])


def _box(key: str, tree: _Tree) -> tuple[list[Shape], float]:
    part = tree.drawn.parts[key]
    lines = [name_text(key, part.status), _rating(key, tree.results), _place(key, tree)]
    lines += [_other(run) for run in tree.drawn.above.get(key, ())[1:]]
    lines += [f"TIE {tie.tag}" for tie in tree.drawn.ties if key in tie.ends]
    lines = [text for text in lines if text]
    half = round(max(0.5, widest(lines, TEXT, True) / 2 + 0.10), 4)
    height = up(LINE_PITCH * len(lines) + 0.12)
    frame = rectangle(-half, 0, half, height, pen(part.status).box)
    shapes: tuple[Shape, ...] = (frame, *text_block(lines, 0, 0.09, bold_first=True, anchor="middle"))
    return [Group((0.0, 0.0), shapes, key, "box")], height


def _other(run: Run) -> str:
    word = {"emergency from": "E", "alternate from": "A", "bypass from": "B"}.get(run.verb, "ALSO")
    return f"{word} FROM {run.source}"


def _place(key: str, tree: _Tree) -> str:
    return " ".join(tree.places.get(key, ()))


def _rating(key: str, results: Results) -> str:
    if key in results.gear:
        bus = results.gear[key].bus_a
        return amperes_text(bus) if bus is not None else "BUS NOT KNOWN"
    if key in results.transformers:
        kva = results.transformers[key].kva
        return f"{kva:g} kVA" if kva is not None else "kVA NOT KNOWN"
    if key in results.transfers:
        amperes = results.transfers[key].rating_a
        return amperes_text(amperes) if amperes is not None else "RATING NOT KNOWN"
    return ""


@dataclass(frozen=True, slots=True)
class _Entry:
    """A line of a list: its part, how far it is indented, how many lines the entries below it take."""

    key: str
    indent: int
    below: int


def _entries(key: str, tree: _Tree, indent: int) -> list[_Entry]:
    """A part and what hangs below it, as far as lists show it."""
    inner = (
        [e for child in tree.children[key] for e in _entries(child, tree, indent + 1)] if indent < tree.nested else []
    )
    return [_Entry(key, indent, len(inner)), *inner]


def _stacks(keys: Sequence[str], tree: _Tree) -> list[list[_Entry]]:
    """Lists of about so many lines; what belongs together stays together."""
    stacks: list[list[_Entry]] = []
    for key in keys:
        entries = _entries(key, tree, 0)
        if not stacks or len(stacks[-1]) + len(entries) > tree.lines:
            stacks.append([])
        stacks[-1] += entries
    return stacks


def _list(entries: Sequence[_Entry], tree: _Tree) -> Block:
    """Lines for what has no box: tag, rating, sheet and zone, how many things hang below unseen."""
    wire = pen(Status.NEW).wire
    shapes: list[Shape] = []
    last: dict[int, float] = {}
    start: dict[int, float] = {0: 0.0}
    for index, entry in enumerate(entries):
        x, y = round(0.20 * entry.indent, 4), round(0.15 + LINE * index, 4)
        for level in [level for level in last if level > entry.indent]:
            shapes.append(line(0.20 * level, start[level], 0.20 * level, last.pop(level), wire))
        if entry.indent in last:
            shapes.append(dot(x, last[entry.indent], wire, 0.028))
        elif entry.indent:
            start[entry.indent] = round(y - LINE + 0.08, 4)
        last[entry.indent] = y
        shapes.append(line(x, y, x + 0.12, y, wire))
        words_of = text_block((_line(entry, tree),), x + 0.17, y - TEXT / 2)
        shapes.append(Group((0.0, 0.0), words_of, entry.key, "box"))
    shapes += [line(0.20 * level, start[level], 0.20 * level, y, wire) for level, y in last.items()]
    return leaf(shapes, up(0.25 + LINE * len(entries)))


def _line(entry: _Entry, tree: _Tree) -> str:
    part = tree.drawn.parts[entry.key]
    count = 0 if entry.below else _count(entry.key, tree)
    words = [name_text(entry.key, part.status), _rating(entry.key, tree.results), _place(entry.key, tree)]
    words += [f"+{count}" if count else "", *(_other(run) for run in tree.drawn.above.get(entry.key, ())[1:])]
    return "  ".join(word for word in words if word)


def _count(key: str, tree: _Tree) -> int:
    """How many boards, transformers and switches hang below a listed one."""
    seen: set[str] = set()
    pending = list(tree.children[key])
    while pending:
        below = pending.pop()
        if below not in seen:
            seen.add(below)
            pending += tree.children[below]
    return len(seen)
