"""The one-line diagram: `one_line(results, network, plan) -> Drawing`."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from fedfrom.drawing.builders import BUILDERS
from fedfrom.drawing.junction import junction_block
from fedfrom.drawing.layout import Layout
from fedfrom.drawing.lettering import capitals
from fedfrom.drawing.outline import Outline, outline
from fedfrom.drawing.overview import LEAST_SHEETS, overview, places_of
from fedfrom.drawing.papers import Paper, paper_named
from fedfrom.drawing.pieces import pieces
from fedfrom.drawing.scene import Drawing, Label, Shape
from fedfrom.drawing.shapes import groups, walk
from fedfrom.drawing.sheet_set import Body, framed
from fedfrom.drawing.sheets import Filled, fill, placed_shapes
from fedfrom.drawing.words import words
from fedfrom.graph.network import Network, StatePlan
from fedfrom.model.items import Interlock
from fedfrom.results.types import Results

FIRST_SHEET = 601
"""One-lines are sheets E-601 and up: type 6, schedules and diagrams, of the Uniform Drawing System (from memory)."""


def one_line(
    results: Results, network: Network, plan: StatePlan, interlocks: Sequence[Interlock] = (),
    engine: Path | None = None,
) -> Drawing:  # fmt: skip
    """Lay out the one-line diagram on as many sheets of the project's size as it takes.

    `interlocks` are named in the notes; `engine` names another dot program than the one installed with the package;
    systems with one source ask none.
    Never raises for a design: what is not known says so on the sheet.
    """
    drawn = outline(results, network)
    layout = Layout(drawn, results, network, _common_insulation(drawn), BUILDERS, junction_block)
    base = paper_named(results.project.sheet_size)
    filled = fill(pieces(layout, *base.room, engine), base) or [Filled(base, base, [])]
    kept = [(index, sheet) for index, sheet in enumerate(filled) if sheet.rows or len(filled) == 1]
    title = words("titles")["one-line"]
    bodies = []
    for index, sheet in kept:
        shapes = placed_shapes(sheet)
        subtitle = f"SHEET {index + 1}" if len(kept) > 1 else ""
        notes = (*_notes(results, plan, shapes, layout, interlocks), *_pins_not_kept(sheet, index + 1))
        bodies.append(Body(f"E-{FIRST_SHEET + index}", sheet.paper, shapes, title, subtitle, notes))
    if len(bodies) >= LEAST_SHEETS:
        bodies.insert(0, _overview(drawn, results, bodies, base))
    return framed("one-line", bodies, results)


def _pins_not_kept(sheet: Filled, number: int) -> tuple[str, ...]:
    """What the text pins to another sheet that has no room for it."""
    text = words("notes")["pin"]
    return tuple(
        text.format(tag=piece.key, sheet=piece.pin)
        for row in sheet.rows for stack in row.stacks for piece in stack
        if piece.pin not in (0, number)
    )  # fmt: skip


def _overview(drawn: Outline, results: Results, bodies: Sequence[Body], paper: Paper) -> Body:
    """The overview before the first sheet; sheets keep their numbers whether there is one or not."""
    places = places_of((body.number, body.paper, body.shapes) for body in bodies)
    shapes = overview(drawn, results, places, paper)
    notes = tuple(words("overview-notes").values())
    return Body(f"E-{FIRST_SHEET - 1}", paper, shapes, words("titles")["overview"], "", notes)


def _common_insulation(drawn: Outline) -> str:
    """The insulation that most runs have (the first of equals); the others name theirs."""
    counts = Counter(
        run.conductors.insulation for run in drawn.runs.values() if run.conductors and run.conductors.insulation
    )
    return counts.most_common(1)[0][0] if counts else ""


def _notes(
    results: Results, plan: StatePlan, body: Sequence[Shape], layout: Layout, interlocks: Sequence[Interlock]
) -> list[str]:
    """The notes that this sheet needs."""
    text = words("notes")
    used = {group.symbol for group, _ in groups(body) if group.symbol}
    labels = [shape.text for shape, _ in walk(body) if isinstance(shape, Label)]
    states = len(results.states) or len(plan.states)
    found = [text["crossing"]]
    if used & {"breaker", "drawout-breaker", "fused-switch", "bolted-pressure-switch"}:
        found.append(text["device"])
    found.append(text["fault"].format(states=states, word="STATE" if states == 1 else "STATES"))
    found.append(text["rated"])
    if layout.insulation:
        found.append(text["conductors"].format(insulation=capitals(layout.insulation)))
    if any(" G" in label or "GEC" in label or "SSBJ" in label for label in labels):
        found.append(text["grounding"])
    if "panelboard" in used:
        found += [text["panels"], text["mains"]]
    if "tie" in {group.kind for group, _ in groups(body)} or any("TIE " in label for label in labels):
        found.append(text["states"])
    keys = {group.id for group, _ in groups(body)}
    found += [
        _interlock(each)
        for each in interlocks
        if any(tag in keys or tag.partition(".")[0] in keys for tag in each.members)
    ]
    if results.project.code:
        found.append(text["code"].format(code=capitals(results.project.code)))
    return found


def _interlock(found: Interlock) -> str:
    """An interlock in words."""
    kind = f"{capitals(found.kind)} INTERLOCK" if found.kind else "INTERLOCK"
    return f"{kind}: AT MOST {found.at_most} OF {', '.join(found.members)} CLOSED."
