"""A board: its bus with what comes in above and what leaves below, in a dashed enclosure."""

from __future__ import annotations

from collections.abc import Sequence

from fedfrom.drawing.block import Bar, Block, Placed, compose, leaf, with_ports
from fedfrom.drawing.captions import board_lines, device_words, name_text
from fedfrom.drawing.entries import Entries, entries_for
from fedfrom.drawing.equipment import ground, surge_device
from fedfrom.drawing.fan import Fan, fan
from fedfrom.drawing.layout import SEGMENT, Layout
from fedfrom.drawing.outline import Part, Run
from fedfrom.drawing.revised import revised
from fedfrom.drawing.scene import Group, Polyline, Shape
from fedfrom.drawing.shapes import block_height, bounds, line, rectangle, text_block, union, widest
from fedfrom.drawing.style import LINE_PITCH, TEXT, Pen, pen, snap, up
from fedfrom.drawing.symbols import device_symbol, dot, ground_fault_relay, meter, named
from fedfrom.model.items import Status
from fedfrom.results.notation import size_text
from fedfrom.results.types import DeviceResult, GearResult

BAR_END = 0.30
ENCLOSURE = 0.14
ENTRY = 0.12
TEE = 0.14
LABEL_CLEAR = 0.22
TEXT_X = 0.14
MAIN_TEXT = 2.2


def board_block(part: Part, layout: Layout) -> Block:
    """The block of a board: first row of its bus with everything that comes in."""
    gear = layout.results.gear.get(part.key)
    runs = _outlets([*layout.outlets(part.key), *_cut_ties(part.key, layout)])
    strokes = pen(part.status)
    taps = _taps(part, gear, layout, strokes)
    below = fan(runs, layout, part.key in layout.turned, first=taps)
    entries = entries_for(part, layout)
    stack, stack_bottom = _incoming(part.key, gear, strokes)
    lines = board_lines(part, layout.results, layout.network)
    return _assemble(part, below, len(taps), (stack, stack_bottom), lines, entries, layout)


def row_block(part: Part, layout: Layout) -> Block:
    """A further row of a board's bus: bar, outlets, and its name marked as continued."""
    board = part.key.partition(SEGMENT)[0]
    below = fan(layout.outlets(part.key), layout, part.key in layout.turned)
    name = name_text(board, part.status)
    return _assemble(part, below, 0, ([], ENTRY), (f"{name} (BUS CONTINUED)",), Entries((), 0.0), layout)


def _cut_ties(key: str, layout: Layout) -> list[Run]:
    """Ties to boards that cannot stand beside this one: a column that ends in a flag; the device on the first end."""
    found = []
    for tie in layout.outline.ties:
        if key not in tie.ends or f"{tie.tag}|tie" not in layout.cut:
            continue
        result = layout.results.ties.get(tie.tag)
        state = "" if result is None else ", N.O." if result.normally_open else ", N.C."
        first = key == tie.ends[0]
        device = result.device if result is not None and first else None
        other = tie.ends[1] if first else tie.ends[0]
        status = result.status if result is not None else Status.NEW
        point = "tie" if first else "tie end"
        found.append(Run(f"{tie.tag}|tie", key, other, "tie", point, device=device, plain=True, status=status,
                         note=f"TIE {tie.tag}{state}"))  # fmt: skip
    return found


def _outlets(runs: Sequence[Run]) -> list[Run]:
    """Outlets in schedule order; those at the opposite end of the bus, then those ahead of the main, stand last."""
    rank = {"opposite end": 1, "feed-through lugs": 1, "sub-feed lugs": 1, "ahead of main": 2}
    return sorted(runs, key=lambda run: rank.get(run.point, 0))


def _assemble(
    part: Part, below: Fan, taps: int, stack: tuple[list[Shape], float], lines: Sequence[str], entries: Entries,
    layout: Layout,
) -> Block:  # fmt: skip
    strokes = pen(part.status)
    ahead = [run.point == "ahead of main" for run in below.runs]
    trunks = list(below.trunks)
    on_bar = [x for x, out in zip(trunks[taps:], ahead, strict=True) if not out]
    trunk = snap((on_bar[0] + on_bar[-1]) / 2) if on_bar else (trunks[-1] if trunks else 0.0)
    top = entries.lowering
    label_top = top + 0.12
    bus = up(max(top + stack[1] + 0.10, label_top + block_height(len(lines)) + (0.40 if part.revised else 0.14)))
    stacked = [Group((0.0, top), tuple(stack[0]))] if stack[0] else []
    right_text = union(bounds(shape) for shape in stacked)[2] if stacked else 0.05
    xs = [round(x - trunk, 6) for x in trunks]
    left = min(xs[0] if xs else 0.0, 0.0) - BAR_END
    left = min(left, -snap(widest(lines, TEXT, True) + LABEL_CLEAR + (0.70 if part.revised else 0.05)))
    inset = 0.12 if part.revised else 0.0
    label_y = bus - 0.09 - inset - block_height(len(lines))
    label_block = text_block(lines, left + 0.02 + inset, label_y, bold_first=True)
    above = entries.placed(max(right_text, 0.30), layout)
    right = max([x for x, out in zip(xs[taps:], ahead, strict=True) if not out] + [0.0]) + BAR_END
    right = max([right, *(x + BAR_END for x, _ in above.feet)])
    xs = _clear_of(xs, taps, ahead, max(right, right_text) + 0.20)
    own: list[Shape] = [*stacked, *revised(label_block, part.revised)]
    start = entries.lowering if entries.main_block is not None else 0.0
    own += _trunk(start, top, stack[1], bus, strokes)
    own += _ahead_wires(xs[taps:], ahead, top, bus, strokes)
    own += [line(x, y, x, bus, strokes.wire) for x, y in above.feet]
    own.append(named("bus", (Polyline(((left, bus), (right, bus)), strokes.bus),)))
    edge = _enclosure(own, below, xs, left, right, top, bus, strokes)
    own.append(edge)
    inner = [
        Placed(block, x, bus, run_id, "column")
        for block, x, run_id in zip(below.blocks, xs, _ids(below, taps, part.key), strict=True)
    ]
    box = bounds(edge)
    block = compose(own, [*above.blocks, *inner])
    bars = {part.key: Bar(bus, left, right, box)}
    return with_ports(block, above.ports, bars)


def _ids(below: Fan, taps: int, key: str) -> list[str]:
    return [f"{key}.tap{index}" for index in range(taps)] + [f"{key}.{run.id}" for run in below.runs]


def _clear_of(xs: list[float], taps: int, ahead: Sequence[bool], least: float) -> list[float]:
    """Move the columns ahead of the main to the right until they clear the bar and the main's text."""
    outside = [x for x, out in zip(xs[taps:], ahead, strict=True) if out]
    if not outside or outside[0] >= least:
        return xs
    shift = up(least - outside[0])
    return xs[:taps] + [round(x + shift, 6) if out else x for x, out in zip(xs[taps:], ahead, strict=True)]


def _trunk(start: float, top: float, stack_bottom: float, bus: float, strokes: Pen) -> list[Shape]:
    shapes: list[Shape] = [line(0, start, 0, top + ENTRY, strokes.wire)]
    if top + stack_bottom < bus:
        shapes.append(line(0, top + stack_bottom, 0, bus, strokes.wire))
    return shapes


def _ahead_wires(xs: Sequence[float], ahead: Sequence[bool], top: float, bus: float, strokes: Pen) -> list[Shape]:
    """Runs that leave ahead of the main: a tee above it, along the top, down to the height of the bus."""
    outside = [x for x, out in zip(xs, ahead, strict=True) if out]
    if not outside:
        return []
    y = top + TEE - 0.02
    shapes: list[Shape] = [dot(0, y, strokes.wire, 0.028), line(0, y, outside[-1], y, strokes.wire)]
    for index, x in enumerate(outside):
        shapes.append(line(x, y, x, bus, strokes.wire))
        if index < len(outside) - 1:
            shapes.append(dot(x, y, strokes.wire, 0.028))
    return [Group((0.0, 0.0), tuple(shapes), kind="link")]


def _enclosure(
    own: Sequence[Shape],
    below: Fan,
    xs: Sequence[float],
    left: float,
    right: float,
    top: float,
    bus: float,
    strokes: Pen,
) -> Group:
    """The dashed enclosure: around the bar, what comes in and the device slot."""
    reach = [bounds(shape, (x, bus)) for block, x in zip(below.blocks, xs, strict=True) for shape in block.shapes[:1]]
    inside = [box for box in reach if box[3] <= bus + below.slots.device + 0.03]
    boxes = [*inside, *(bounds(shape) for shape in own)]
    far_left = min([left, *(box[0] for box in boxes)]) - ENCLOSURE
    far_right = max([right, *(box[2] for box in boxes)]) + ENCLOSURE
    depth = max(below.slots.device, 0.14)
    return named("enclosure", (rectangle(far_left, top + 0.05, far_right, bus + depth, strokes.enclosure),))


def _incoming(key: str, gear: GearResult | None, strokes: Pen) -> tuple[list[Shape], float]:
    """Metering, main and ground-fault relay in the incoming wire; shapes from y = 0 and the bottom of the last one."""
    shapes: list[Shape] = []
    y = ENTRY
    if gear is None:
        return shapes, y
    if gear.metering and gear.metering != "none":
        symbol = meter(strokes)
        words = "UTILITY METERING" if "utility" in gear.metering else "METERING"
        text = text_block((words,), 0.54, 0.13)
        shapes.append(Group((0.0, y), (symbol.group, *text), f"{key}.metering", "metering"))
        y += symbol.height
    if gear.main is not None:
        inner, height = _main(gear.main, strokes, gear.tag)
        shapes.append(Group((0.0, round(y, 4)), inner, f"{key}.main", "main"))
        y += height
        if "G" in gear.main.functions or "GFPE" in gear.main.options:
            relay = ground_fault_relay(strokes)
            shapes.append(Group((0.0, round(y, 4)), (relay.group,), f"{key}.ground-fault", "relay"))
            y += relay.height
    return shapes, round(y, 4)


def _main(device: DeviceResult, strokes: Pen, tag: str) -> tuple[tuple[Shape, ...], float]:
    words = device_words(device, MAIN_TEXT)
    symbol = device_symbol(device.kind, device.options, strokes, (("TAG", f"{tag}.main"), ("RATING", " ".join(words))))
    high = block_height(len(words))
    pad = max(0.0, round((high + 0.08 - symbol.height) / 2, 4))
    height = up(symbol.height + 2 * pad)
    after = round(height - pad - symbol.height, 4)
    shapes: list[Shape] = [Group((0.0, pad), (symbol.group,)), *text_block(words, TEXT_X, (height - high) / 2)]
    if pad:
        shapes += [line(0, 0, 0, pad, strokes.wire), line(0, height - after, 0, height, strokes.wire)]
    return tuple(shapes), height


def _taps(part: Part, gear: GearResult | None, layout: Layout, strokes: Pen) -> list[Block]:
    """Surge device and grounding at the left end of the bus."""
    taps = []
    surge = layout.network.nodes[part.key].item.facts.first("surge device")
    if surge is not None:
        amount = layout.network.nodes[part.key].item.facts.amount("surge device")
        words = (f"{amount.value / 1000:g} kA",) if amount is not None else ()
        taps.append(leaf((surge_device(strokes), *text_block(words, 0, 0.50, anchor="middle")), 0.65))
    if gear is not None and gear.grounding_electrode_conductor:
        text = _grounding_text(gear)
        taps.append(leaf((ground(strokes), *text), 0.20 + LINE_PITCH * len(text)))
    return taps


def _grounding_text(gear: GearResult) -> tuple[Shape, ...]:
    from fedfrom.drawing.lettering import capitals, wrap

    lines = [f"GEC {size_text(gear.grounding_electrode_conductor)}"]
    if gear.main_bonding_jumper:
        lines.append(f"MBJ {size_text(gear.main_bonding_jumper)}")
    lines += [text for electrode in gear.electrodes for text in wrap(capitals(electrode), 1.60, TEXT)]
    return text_block(lines, 0.14, 0.10, pitch=LINE_PITCH)
