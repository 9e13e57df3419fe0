"""A set of finished sheets: bodies of any drawing in the one frame, with symbols, notes and references of each sheet.

`framed` is the only way from shapes to sheets, so that every drawing has the same border, strip, numbers and flags.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from fedfrom.drawing.frame import TitleData, frame
from fedfrom.drawing.lettering import capitals
from fedfrom.drawing.papers import Paper
from fedfrom.drawing.scene import Drawing, Group, Label, Shape, Sheet
from fedfrom.drawing.shapes import groups, walk
from fedfrom.drawing.sheets import flag_places, with_references
from fedfrom.drawing.style import STATUS_MARKS
from fedfrom.drawing.words import words
from fedfrom.model.items import Status
from fedfrom.results.types import ProjectInfo, Results


@dataclass(frozen=True, slots=True)
class Body:
    """What stands on one sheet: groups of kind "piece" in the sheet's coordinates, within `paper.area`.

    `number` of the sheet ("E-601"), `title` in capitals, `subtitle` under it; `notes` for this sheet, before the
    general notes of the project; `scale` in words ("1/4 IN = 1 FT"), "" for a diagram without.
    """

    number: str
    paper: Paper
    shapes: tuple[Shape, ...]
    title: str
    subtitle: str = ""
    notes: tuple[str, ...] = ()
    scale: str = ""


def framed(name: str, bodies: Sequence[Body], results: Results) -> Drawing:
    """The drawing `name` (a file stem) of bodies in the order given; flags get the sheet and zone of their partners."""
    places = flag_places([(body.number, body.paper, body.shapes) for body in bodies])
    sheets = []
    for index, body in enumerate(bodies):
        shapes = tuple(with_references(shape, places) for shape in body.shapes)
        data = _title_data(results, body, shapes, f"{index + 1} OF {len(bodies)}")
        paper = body.paper
        sheets.append(Sheet(body.number, body.title, paper.width, paper.height, (*frame(paper, data), *shapes)))
    return Drawing(name, bodies[0].title if bodies else name.upper(), tuple(sheets))


def piece(name: str, shapes: Sequence[Shape], at: tuple[float, float] = (0.0, 0.0)) -> Group:
    """Shapes as one piece of a sheet's body; the checker holds pieces against border and legend."""
    return Group(at, tuple(shapes), name, "piece")


def _title_data(results: Results, body: Body, shapes: Sequence[Shape], count: str) -> TitleData:
    project = results.project
    used = {group.symbol for group, _ in groups(shapes) if group.symbol}
    layers = {shape.stroke.layer for shape, _ in walk(shapes) if not isinstance(shape, Label)}
    statuses = [
        status for status in Status if STATUS_MARKS[status] and any(x.endswith(f"-{status.value}") for x in layers)
    ]
    notes = [*body.notes, *(capitals(note) for note in project.notes)]
    texts = [capitals(project.title), *(shape.text for shape, _ in walk(shapes) if isinstance(shape, Label))]
    if any("?" in text for text in texts):
        notes.append(words("notes")["letters"])
    return TitleData(
        body.number, count, body.title, body.subtitle, project.title, project.number, results.digest,
        findings_text(results), _revisions(project, shapes), notes, [name for name in words("legend") if name in used],
        statuses, _parties(project), body.scale,
    )  # fmt: skip


def _revisions(project: ProjectInfo, shapes: Sequence[Shape]) -> list[tuple[str, str, str]]:
    """The revisions of the project; and marks on this sheet that none of them explains."""
    known = {capitals(mark) for mark, _, _ in project.revisions}
    marks = sorted(
        {value for group, _ in groups(shapes) if group.symbol == "revision" for _, value in group.attributes}
    )
    bare = [(mark, "", words("revision")["undescribed"]) for mark in marks if mark not in known]
    return [*bare, *project.revisions]


def _parties(project: ProjectInfo) -> list[tuple[str, str]]:
    """Whose job it is: the captions and names that the project gives."""
    text = words("strip")
    named = {
        "address": project.address,
        "occupancy": project.occupancy,
        "owner": project.owner,
        "designer": project.designer,
        "drawn": project.drawn_by,
        "checked": project.checked_by,
    }
    return [(text[key], value) for key, value in named.items() if value]


def findings_text(results: Results) -> str:
    """The count of findings by gravity, gravest first; the words alone are never left out."""
    counts = Counter(finding.severity for finding in results.findings)
    named = [f"{counts[s]} {capitals(s.word)}{'S' if counts[s] != 1 and s.word != 'not checked' else ''}"
             for s in sorted(counts, reverse=True)]  # fmt: skip
    return "CHECKS: " + (", ".join(named) if named else "NO FINDINGS")
