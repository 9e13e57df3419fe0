"""What the templates of both written forms get: groups in order, and the summary."""

from __future__ import annotations

from collections import Counter
from importlib.resources import files
from itertools import groupby
from typing import Any

from fedfrom.changes.grouping import grouped, joined
from fedfrom.changes.types import BillChange, Cause, Change, Difference, FindingChange

# Items and circuits told as a whole; areas of many figures that follow from the others; a written form may fold them.
WHOLE = ("Added", "Taken out")
FIGURES = ("Fault current", "Voltage drop")
_FINDING_WORDS = {
    "accepted": "accepted",
    "gained": "new",
    "changed": "changed",
    "assumed": "now assumed",
    "lost": "gone",
    "no longer accepted": "no longer accepted",
}


def template_text(name: str) -> str:
    """The text of a file of `templates/changes/`."""
    return (files("fedfrom.templates") / "changes" / name).read_text(encoding="utf-8")


def view(difference: Difference) -> dict[str, Any]:
    """The parts of a comparison as the templates print them."""
    changes = grouped(difference.changes)
    lowering = [change for change in changes if change.lowers]
    others = [change for change in changes if not change.lowers]
    areas = [(area, list(group)) for area, group in groupby(others, key=lambda change: change.area)]
    lowering_edits = [(n, edit) for n, edit in enumerate(difference.edits, 1) if edit.lowers]
    lowering_findings = [each for each in difference.findings if each.lowers]
    return {
        "lowering_count": len(lowering) + len(lowering_edits) + len(lowering_findings),
        "difference": difference,
        "summary": summary(difference),
        "lowering": lowering,
        "lowering_edits": lowering_edits,
        "lowering_findings": lowering_findings,
        "edits": list(enumerate(difference.edits, 1)),
        "areas": areas,
        "whole": [each for each in areas if each[0] in WHOLE],
        "selections": [each for each in areas if each[0] not in (*FIGURES, *WHOLE)],
        "figures": [each for each in areas if each[0] in FIGURES],
        "findings": [each for each in difference.findings if not each.lowers],
        "bill": [(name, list(group)) for name, group in groupby(difference.bill, key=lambda each: each.list_name)],
        "sheets": [(name, list(group)) for name, group in groupby(difference.sheets, key=lambda each: each.document)],
        "joined": joined,
        "quantity": quantity,
        "because": because,
        "why": why,
        "finding_word": lambda each: _FINDING_WORDS[each.kind],
    }


def summary(difference: Difference) -> list[str]:
    """The first lines: how much was written differently, and what comes of it, in counts."""
    written = len(difference.edits) + len(difference.renames)
    areas = Counter(change.area for change in difference.changes)
    parts = [
        f"{count} in {area.lower()}" if area not in ("Added", "Taken out") else f"{count} {area.lower()}"
        for area, count in areas.items()
    ]
    lines = [
        f"{_count(written, 'edit')} of the text, {_count(len(difference.changes), 'consequence')}"
        + (f": {', '.join(parts)}." if parts else ".")
    ]
    findings = Counter(_FINDING_WORDS[each.kind] for each in difference.findings)
    more = [f"{count} {word}" for word, count in findings.items()]
    lines += [f"Findings: {', '.join(more)}."] if more else ["Findings: the same."]
    counts = [_count(len(difference.bill), "line of the bill", "lines of the bill")] if difference.bill else []
    if difference.sheets:
        counts.append(_count(len(difference.sheets), "sheet or section", "sheets or sections"))
    if counts:
        lines.append(f"Different too: {' and '.join(counts)}.")
    return lines


def _count(number: int, one: str, many: str = "") -> str:
    return f"{number} {one if number == 1 else many or one + 's'}"


def because(causes: tuple[Cause, ...]) -> list[str]:
    """The links of a chain as they are read: each with its place, the line of text last."""
    return [f"{cause.text} ({cause.place})" if cause.place else cause.text for cause in causes]


def why(each: Change | FindingChange | BillChange) -> list[str]:
    """The chain of a change, or the words for a value whose cause lies in several places at once."""
    return because(each.because) or ["several of the edits together"]


def quantity(value: float) -> str:
    """A quantity of the bill: whole where it is whole."""
    return f"{value:,.0f}" if abs(value - round(value)) < 0.05 else f"{value:,.1f}"
