"""The grounding diagram: every service and separately derived system with its bonding jumper, electrode conductor and
electrodes; generators with where their neutral is bonded.

`grounding_diagram(results, network, clause) -> Drawing`; no sheets where nothing is grounded here.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fedfrom.drawing.captions import name_text, system_text
from fedfrom.drawing.equipment import ground
from fedfrom.drawing.lettering import capitals, wrap
from fedfrom.drawing.papers import Paper, paper_named
from fedfrom.drawing.scene import Drawing, Group, Shape
from fedfrom.drawing.shapes import block_height, line, rectangle, text_block
from fedfrom.drawing.sheet_set import Body, framed, piece
from fedfrom.drawing.style import LINE_PITCH, TEXT, Pen, pen, up
from fedfrom.drawing.symbols import dot, named
from fedfrom.drawing.words import words
from fedfrom.graph.network import Network
from fedfrom.model.items import Status
from fedfrom.quantity import VoltageSystem
from fedfrom.results.notation import size_text
from fedfrom.results.types import GearResult, Results, SourceResult, TransformerResult

FIRST_SHEET = 521
UNIT_WIDTH = 3.60
GAP = 0.30
HEAD = 0.80
BOX_LEFT, BOX_RIGHT = 0.30, 3.20
NEUTRAL, GROUND, BOTTOM = 1.15, 1.75, 2.05
LEVEL = 2.55
"""Heights in a unit, inches: the two bars, the lower edge of the enclosure, the line to the electrodes."""
JUMPER_X = 2.00
DROP_X = 0.55
ELECTRODE_PITCH = 1.15


@dataclass(frozen=True, slots=True)
class Unit:
    """A grounded system. `jumper` and `conductor` are sizes, "" where not known; `bonded` False: its neutral is bonded
    elsewhere, `bond` says where; `supply_side` the supply-side bonding jumper; `each` the conductor to each electrode.
    """

    tag: str
    lines: tuple[str, ...]
    status: Status
    jumper_word: str
    jumper: str
    conductor: str
    electrodes: tuple[str, ...]
    supply_side: str = ""
    bonded: bool = True
    bond: str = ""
    each: tuple[str, ...] = ()


def grounding_diagram(results: Results, network: Network, clause: Callable[[str], str]) -> Drawing:
    """Lay out the grounding diagram. `clause` gives a clause of NEC 2023 as the edition of the project numbers it."""
    units = units_of(results, network)
    title = words("titles")["grounding"]
    paper = paper_named(results.project.sheet_size)
    parts = _sheets(units, paper)
    bodies = []
    for index, members in enumerate(parts):
        subtitle = f"SHEET {index + 1}" if len(parts) > 1 else ""
        notes = tuple(_notes(members, clause))
        bodies.append(Body(f"E-{FIRST_SHEET + index}", paper, _placed(members, paper), title, subtitle, notes))
    return framed("grounding", bodies, results) if bodies else Drawing("grounding", title, ())


def units_of(results: Results, network: Network) -> list[Unit]:
    """Services first, then generators, then transformers, each in source order."""
    found = [_service(gear) for gear in results.gear.values() if gear.service_equipment or gear.main_bonding_jumper]
    found += [_generator(source, network) for source in results.sources.values() if source.kind == "generator"]
    found += [_transformer(each) for each in results.transformers.values() if _derives(each.secondary)]
    return found


def _derives(system: VoltageSystem | None) -> bool:
    return system is not None and system.grounding in ("solid", "resistance", "corner") and not system.is_dc


def _service(gear: GearResult) -> Unit:
    lines = (name_text(gear.tag, gear.status, gear.by), *_two(gear.title), system_text(gear.system))
    return Unit(
        gear.tag, lines, gear.status, "MBJ", gear.main_bonding_jumper, gear.grounding_electrode_conductor,
        gear.electrodes, each=gear.electrode_conductors,
    )  # fmt: skip


def _transformer(found: TransformerResult) -> Unit:
    lines = (name_text(found.tag, found.status, found.by), *_two(found.title), system_text(found.secondary))
    return Unit(
        found.tag, lines, found.status, "SBJ", found.system_bonding_jumper, found.grounding_electrode_conductor,
        found.electrodes, found.supply_side_bonding_jumper, each=found.electrode_conductors,
    )  # fmt: skip


def _generator(source: SourceResult, network: Network) -> Unit:
    lines = (name_text(source.tag, source.status), *_two(source.title), system_text(source.system))
    bonded = source.bond not in ("", "none")
    written = network.nodes[source.tag].item.electrodes if source.tag in network.nodes else ()
    electrodes = tuple(each.kind for each in written)
    bond = source.bond or "not stated"
    return Unit(source.tag, lines, source.status, "SBJ", "", "", electrodes, bonded=bonded, bond=bond)


def _two(text: str) -> tuple[str, ...]:
    return wrap(capitals(text), UNIT_WIDTH - 0.6, TEXT, most=2)


def _sheets(units: Sequence[Unit], paper: Paper) -> list[list[list[Unit]]]:
    """Units in rows, rows on sheets."""
    width, height = paper.room
    across = max(1, int((width + GAP) / (UNIT_WIDTH + GAP)))
    rows = [list(units[start : start + across]) for start in range(0, len(units), across)]
    parts: list[list[list[Unit]]] = []
    used = height + 1.0
    for row in rows:
        high = max(unit_height(unit) for unit in row) + GAP
        if used + high > height:
            parts.append([])
            used = 0.0
        parts[-1].append(row)
        used += high
    return parts


def _placed(rows: Sequence[Sequence[Unit]], paper: Paper) -> tuple[Shape, ...]:
    left, top, right, bottom = paper.area
    highs = [max(unit_height(unit) for unit in row) for row in rows]
    spare = (bottom - top) - sum(highs)
    step = min(spare / (len(rows) + 1), 1.0)
    y = top + (spare - step * (len(rows) - 1)) / 2
    across = max(len(row) for row in rows)
    # Columns stay under each other; the last row may be shorter.
    first = (left + right - across * UNIT_WIDTH - (across - 1) * GAP) / 2
    found: list[Shape] = []
    for row, high in zip(rows, highs, strict=True):
        for number, unit in enumerate(row):
            at = (up(first + number * (UNIT_WIDTH + GAP)), up(y))
            found.append(piece(unit.tag, unit_shapes(unit), at))
        y += high + step
    return tuple(found)


def unit_height(unit: Unit) -> float:
    """The height of a unit in inches."""
    return LEVEL + 0.32 + LINE_PITCH * max((len(lines) for lines in _electrode_lines(unit)), default=1) + 0.1


def unit_shapes(unit: Unit) -> tuple[Shape, ...]:
    """One system: enclosure with neutral and ground bar, the jumper between them, conductors to the electrodes."""
    strokes = pen(unit.status)
    shapes: list[Shape] = [
        *text_block(unit.lines, BOX_LEFT, HEAD - 0.10 - block_height(len(unit.lines)), bold_first=True)
    ]
    box = rectangle(BOX_LEFT, HEAD, BOX_RIGHT, BOTTOM, strokes.enclosure)
    shapes.append(named("enclosure", (box,)))
    shapes += _bar(NEUTRAL, "N", strokes, DROP_X)
    shapes += _bar(GROUND, "G", strokes, DROP_X + 0.35)
    shapes += _jumper(unit, strokes)
    if unit.supply_side:
        shapes.append(line(JUMPER_X + 0.60, GROUND, JUMPER_X + 0.60, BOTTOM + 0.20, strokes.wire))
        shapes += text_block((f"SSBJ {size_text(unit.supply_side)}", "TO SUPPLY"), JUMPER_X + 0.67, BOTTOM + 0.08)
    if unit.bonded:
        shapes += _electrodes(unit, strokes)
    elif unit.bond == "none":
        words_of = ("NOT A SEPARATELY DERIVED SYSTEM HERE;", "EQUIPMENT GROUND WITH THE FEEDER")
        shapes += text_block(words_of, 0.30, BOTTOM + 0.12)
    return tuple(shapes)


def _bar(y: float, letter: str, strokes: Pen, left: float) -> list[Shape]:
    """A terminal bar with its letter at the right end."""
    right = BOX_RIGHT - 0.35
    return [
        named("terminal-bar", (line(left, y, right, y, strokes.bus),)),
        *text_block((letter,), right + 0.10, y - TEXT / 2, bold_first=True),
    ]


def _jumper(unit: Unit, strokes: Pen) -> list[Shape]:
    if not unit.bonded:
        return [
            *text_block((f"NEUTRAL BOND: {capitals(unit.bond)}",), JUMPER_X - 0.75, (NEUTRAL + GROUND) / 2 - TEXT / 2)
        ]
    size = size_text(unit.jumper) if unit.jumper else "NOT KNOWN"
    return [
        line(JUMPER_X, NEUTRAL, JUMPER_X, GROUND, strokes.wire),
        dot(JUMPER_X, NEUTRAL, strokes.wire, 0.04),
        dot(JUMPER_X, GROUND, strokes.wire, 0.04),
        *text_block((unit.jumper_word, size), JUMPER_X - 0.07, (NEUTRAL + GROUND) / 2 - 0.1275, anchor="end"),
    ]


def _electrodes(unit: Unit, strokes: Pen) -> list[Shape]:
    """From the neutral bar down to a line on which every electrode hangs."""
    size = f"GEC {size_text(unit.conductor)}" if unit.conductor else "GEC NOT KNOWN"
    shapes: list[Shape] = [line(DROP_X, NEUTRAL, DROP_X, LEVEL, strokes.wire)]
    shapes += text_block((size,), DROP_X + 0.07, BOTTOM + 0.12)
    words_of = _electrode_lines(unit)
    xs = [round(DROP_X + ELECTRODE_PITCH * index, 4) for index in range(len(words_of))]
    if len(xs) > 1:
        shapes.append(line(xs[0], LEVEL, xs[-1], LEVEL, strokes.wire))
        shapes += [dot(x, LEVEL, strokes.wire, 0.028) for x in xs[:-1]]
    for x, lines in zip(xs, words_of, strict=True):
        shapes.append(Group((x, LEVEL), (ground(strokes),)))
        shapes += text_block(lines, x - 0.10, LEVEL + 0.28)
    if not xs:
        shapes += text_block(("ELECTRODES NOT STATED",), DROP_X + 0.07, LEVEL)
    return shapes


def _electrode_lines(unit: Unit) -> list[tuple[str, ...]]:
    """The words under each electrode; those that find no room beside each other share the last place."""
    if not unit.bonded:
        return []
    sizes = unit.each if len(set(unit.each)) > 1 else ()
    found = [
        (*_electrode_words(text), *([size_text(sizes[index])] if index < len(sizes) else []))
        for index, text in enumerate(unit.electrodes)
    ]
    if len(found) > 3:
        found = [*found[:2], tuple(text for lines in found[2:] for text in lines)]
    return found


def _electrode_words(text: str) -> tuple[str, ...]:
    """What an electrode is, and on a line of its own the length of its conductor."""
    kind, _, length = capitals(text).partition(", ")
    return (*wrap(kind, ELECTRODE_PITCH - 0.08, TEXT), *([length] if length else []))


def _notes(rows: Sequence[Sequence[Unit]], clause: Callable[[str], str]) -> list[str]:
    text = words("grounding-notes")
    numbers = {key: clause(key) for key in ("250.50", "250.66", "250.28(D)", "250.30(A)(1)", "250.30(A)(2)")}
    units = [unit for row in rows for unit in row]
    found = [text["common"], text["conductor"]]
    if any(unit.jumper_word == "MBJ" for unit in units):
        found.append(text["main"])
    if any(unit.jumper_word == "SBJ" for unit in units):
        found.append(text["derived"])
    found.append(text["sizes"])
    return [note.format(code=numbers) for note in found]
