"""The one-line diagram: `one_line(results, network, plan) -> Drawing`."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from fedfrom.drawing.builders import BUILDERS
from fedfrom.drawing.frame import TitleData, frame
from fedfrom.drawing.junction import junction_block
from fedfrom.drawing.layout import Layout
from fedfrom.drawing.lettering import capitals
from fedfrom.drawing.outline import Outline, outline
from fedfrom.drawing.pieces import pieces
from fedfrom.drawing.scene import Drawing, Label, Shape, Sheet
from fedfrom.drawing.shapes import groups, walk
from fedfrom.drawing.sheets import ANSI_D, fill, flag_places, placed_shapes, with_references
from fedfrom.drawing.style import STATUS_MARKS
from fedfrom.drawing.words import words
from fedfrom.graph.network import Network, StatePlan
from fedfrom.model.items import Status
from fedfrom.results.types import Results

FIRST_SHEET = 601
"""One-lines are sheets E-601 and up: type 6, schedules and diagrams, of the Uniform Drawing System (from memory)."""


def one_line(results: Results, network: Network, plan: StatePlan, engine: Path | None = None) -> Drawing:
    """Lay out the one-line diagram on as many ANSI D sheets as it takes.

    `engine` names another dot program than the one installed with the package; systems with one source ask none.
    Never raises for a design: what is not known says so on the sheet.
    """
    drawn = outline(results, network)
    layout = Layout(drawn, results, network, _common_insulation(drawn), BUILDERS, junction_block)
    room = ANSI_D.room
    filled = fill(pieces(layout, room[0], room[1], engine))
    title = words("titles")["one-line"]
    numbers = [f"E-{FIRST_SHEET + index}" for index in range(max(1, len(filled)))]
    contents = [placed_shapes(sheet) for sheet in filled] or [()]
    papers = [sheet.paper for sheet in filled] or [ANSI_D]
    places = flag_places(list(zip(numbers, papers, contents, strict=True)))
    sheets = []
    for index, (number, paper, shapes) in enumerate(zip(numbers, papers, contents, strict=True)):
        body = tuple(with_references(shape, places) for shape in shapes)
        subtitle = f"SHEET {index + 1}" if len(numbers) > 1 else ""
        data = _title_data(results, plan, body, layout, (number, f"{index + 1} OF {len(numbers)}", title, subtitle))
        sheets.append(Sheet(number, title, paper.width, paper.height, (*frame(paper, data), *body)))
    return Drawing("one-line", title, tuple(sheets))


def _common_insulation(drawn: Outline) -> str:
    """The insulation that most runs have (the first of equals); the others name theirs."""
    counts = Counter(
        run.conductors.insulation for run in drawn.runs.values() if run.conductors and run.conductors.insulation
    )
    return counts.most_common(1)[0][0] if counts else ""


def _title_data(
    results: Results, plan: StatePlan, body: Sequence[Shape], layout: Layout, names: tuple[str, str, str, str]
) -> TitleData:
    project = results.project
    used = {group.symbol for group, _ in groups(body) if group.symbol}
    symbols = [name for name in words("legend") if name in used]
    layers = {shape.stroke.layer for shape, _ in walk(body) if not isinstance(shape, Label)}
    statuses = [
        status for status in Status if STATUS_MARKS[status] and any(x.endswith(f"-{status.value}") for x in layers)
    ]
    return TitleData(
        *names, project.title, project.number, project.drawn_by, results.digest, _findings_text(results),
        project.revisions, _notes(results, plan, body, used, layout), symbols, statuses,
    )  # fmt: skip


def _findings_text(results: Results) -> str:
    """The count of findings by gravity, gravest first; the words alone are never left out."""
    counts = Counter(finding.severity for finding in results.findings)
    named = [f"{counts[s]} {capitals(s.word)}{'S' if counts[s] != 1 and s.word != 'not checked' else ''}"
             for s in sorted(counts, reverse=True)]  # fmt: skip
    return "CHECKS: " + (", ".join(named) if named else "NO FINDINGS")


def _notes(results: Results, plan: StatePlan, body: Sequence[Shape], used: set[str], layout: Layout) -> list[str]:
    """The notes that this sheet needs."""
    text = words("notes")
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
    if results.project.code:
        found.append(text["code"].format(code=capitals(results.project.code)))
    if any("?" in label for label in labels):
        found.append(text["letters"])
    return found
