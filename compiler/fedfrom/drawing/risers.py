"""Sources, transformers and whatever else passes one wire on downward."""

from __future__ import annotations

from fedfrom.drawing.block import Bar, Block, Placed, compose, with_ports
from fedfrom.drawing.captions import device_words, source_lines, transformer_lines, transformer_words
from fedfrom.drawing.columns import TEXT_X
from fedfrom.drawing.equipment import direct_source, generator, transformer, utility
from fedfrom.drawing.fan import fan
from fedfrom.drawing.layout import Layout
from fedfrom.drawing.outline import Part
from fedfrom.drawing.revised import revised
from fedfrom.drawing.scene import Group, Shape
from fedfrom.drawing.shapes import block_height, line, text_block
from fedfrom.drawing.style import Pen, pen, snap, up
from fedfrom.drawing.symbols import Inline, device_symbol, dot
from fedfrom.results.types import DeviceResult, TransformerResult

LABEL_X = 0.34


def below_point(key: str, layout: Layout, on_bus: bool) -> Block | None:
    """What hangs under one wire: one column straight below, several on a tee line with dots, None for nothing."""
    runs = layout.outlets(key)
    if not runs:
        return None
    below = fan(runs, layout, key in layout.turned, on_bus=on_bus)
    if len(runs) == 1:
        return compose([], [Placed(below.blocks[0], 0.0, 0.0, f"{key}.{runs[0].id}", "column")])
    strokes = pen(layout.outline.parts[key].status)
    trunk = snap((below.trunks[0] + below.trunks[-1]) / 2)
    xs = [round(x - trunk, 6) for x in below.trunks]
    tee = 0.15
    own: list[Shape] = [line(0, 0, 0, tee, strokes.wire), line(xs[0], tee, xs[-1], tee, strokes.wire)]
    own += [dot(x, tee, strokes.wire, 0.028) for x in sorted({0.0, *xs[1:-1]})]
    inner = [
        Placed(block, x, tee, f"{key}.{run.id}", "column")
        for block, x, run in zip(below.blocks, xs, below.runs, strict=True)
    ]
    box = (xs[0], tee, xs[-1] + 1.0, tee + below.slots.device)
    return with_ports(compose(own, inner), bars={key: Bar(tee, xs[0], xs[-1], box)})


def _tower(key: str, layout: Layout, pieces: list[tuple[tuple[Shape, ...], float]], strokes: Pen) -> Block:
    """Symbols under each other on one wire, then what hangs below."""
    shapes: list[Shape] = []
    y = 0.0
    for part, height in pieces:
        shapes.append(Group((0.0, round(y, 6)), part))
        y = up(y + height)
    below = below_point(key, layout, on_bus=False)
    if below is None:
        return compose(shapes, [], y)
    return compose(shapes, [Placed(below, 0.0, y, f"{key}.below", "below")], y)


def _symbol_with_text(
    symbol: Inline, lines: tuple[str, ...], text_x: float, top: float, strokes: Pen, bold: bool, lead: float = 0.0,
    mark: str = "",
) -> tuple[tuple[Shape, ...], float]:  # fmt: skip
    """A symbol in a wire with its text on the right, long enough for the text."""
    height = up(max(lead + symbol.height + 0.05, top + block_height(len(lines)) + 0.10))
    words = text_block(lines, text_x, top, bold_first=bold)
    height = up(height + 0.10) if mark else height
    shapes: list[Shape] = [Group((0.0, lead), (symbol.group,)), *revised(words, mark)]
    if lead:
        shapes.append(line(0, 0, 0, lead, strokes.wire))
    shapes.append(line(0, lead + symbol.height, 0, height, strokes.wire))
    return tuple(shapes), height


def _device(device: DeviceResult, tag: str, strokes: Pen) -> tuple[tuple[Shape, ...], float]:
    words = tuple(device_words(device))
    symbol = device_symbol(device.kind, device.options, strokes, (("TAG", tag), ("RATING", " ".join(words))))
    lead = max(0.05, (block_height(len(words)) - symbol.height) / 2 + 0.08)
    return _symbol_with_text(symbol, words, TEXT_X, 0.06, strokes, bold=False, lead=round(lead, 4))


def source_block(part: Part, layout: Layout) -> Block:
    """A utility or generator, its own transformer and main, and what it feeds."""
    strokes = pen(part.status)
    source = layout.results.sources.get(part.key)
    kind = source.kind if source else layout.network.nodes[part.key].item.kind
    symbol = _source_symbol(kind, strokes, part.key)
    lines = source_lines(part, layout.results, layout.network)
    pieces = [_symbol_with_text(symbol, lines, LABEL_X, 0.02, strokes, bold=True, mark=part.revised)]
    if source is not None and source.transformer is not None:
        head = "UTILITY TRANSFORMER" if kind == "utility" else part.key
        lines = (head, *transformer_words(source.transformer))
        pieces.append(_transformer_piece(source.transformer, lines, strokes))
    if source is not None and source.main is not None:
        pieces.append(_device(source.main, f"{part.key}.main", strokes))
    if not layout.outlets(part.key):
        pieces[-1] = (pieces[-1][0][:-1], pieces[-1][1]) if len(pieces) == 1 else pieces[-1]
    return _tower(part.key, layout, pieces, strokes)


def _source_symbol(kind: str, strokes: Pen, tag: str) -> Inline:
    attributes = (("TAG", tag),)
    if kind in ("generator", "generator connection"):
        return generator(strokes, attributes)
    if kind in ("pv", "battery"):
        return direct_source(strokes, {"pv": "PV", "battery": "BATT"}[kind], attributes)
    return utility(strokes, attributes)


def transformer_block(part: Part, layout: Layout) -> Block:
    """A transformer, a secondary device that is part of it, and what it feeds."""
    strokes = pen(part.status)
    found = layout.results.transformers.get(part.key)
    lines = transformer_lines(part.key, part.status, layout.results, layout.network)
    pieces = [_transformer_piece(found, lines, strokes, part.key, part.revised)]
    item = layout.network.nodes[part.key].item
    integral = item.main is not None and not item.main.lugs
    if found is not None and found.secondary_device is not None and integral:
        pieces.append(_device(found.secondary_device, f"{part.key}.main", strokes))
    if not layout.outlets(part.key):
        pieces[-1] = (pieces[-1][0][:-1], pieces[-1][1])
    return _tower(part.key, layout, pieces, strokes)


def _transformer_piece(
    found: TransformerResult | None, lines: tuple[str, ...], strokes: Pen, tag: str = "", mark: str = ""
) -> tuple[tuple[Shape, ...], float]:
    primary, secondary = _windings(found)
    attributes = (("TAG", tag), ("RATING", lines[1] if len(lines) > 1 else ""))
    symbol = transformer(strokes, primary, secondary, attributes)
    return _symbol_with_text(symbol, lines, LABEL_X, 0.06, strokes, bold=True, mark=mark)


def _windings(found: TransformerResult | None) -> tuple[str, str]:
    """Winding marks from the connection's words, else from the voltage systems; none for single phase."""
    if found is None or (found.secondary is not None and found.secondary.phases != 3):
        return "", ""
    words = found.connection.lower().replace("\u2013", "-").split("-")
    grounded = found.secondary is not None and found.secondary.grounding in ("solid", "resistance")
    star = "wye-grounded" if grounded else "wye"
    names = [("wye" if "wye" in word or "star" in word else "delta" if "delta" in word else "") for word in words]
    names = [name for name in names if name]
    if len(names) >= 2:
        return names[0], star if names[1] == "wye" else names[1]
    if found.secondary is None:
        return "", ""
    return "delta", star if found.secondary.kind == "wye" else "delta"
