"""What stands on each sheet and in each section, as text that can be compared: for `fedfrom diff`."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from fedfrom.drawing.scene import Group
from fedfrom.rules.registry import Design

# What stands on every sheet, or follows from what is on it.
_FRAME = frozenset({"frame", "legend"})
_TAGS = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_-]*")


@dataclass(frozen=True, slots=True)
class SheetContent:
    """`key` "one-line diagram/E-601"; `fingerprint` of all on it but the title block; `tags` that stand on it."""

    key: str
    title: str
    fingerprint: str
    tags: frozenset[str]


def sheet_list(design: Design) -> tuple[SheetContent, ...]:
    """Every sheet of the drawings and of the schedules, and every section of the specification, in order.

    The design's digest and the count of findings stand in every title block; they are left out.
    """
    neutral = replace(design, results=replace(design.results, digest="", findings=()))
    found: dict[str, SheetContent] = {}
    for key, title, content in (*_drawings(neutral), *_schedules(neutral), *_sections(neutral)):
        tags = frozenset(_TAGS.findall(content)) & frozenset(design.model.items)
        found.setdefault(key, SheetContent(key, title, hashlib.sha256(content.encode()).hexdigest(), tags))
    return tuple(found.values())


def _drawings(design: Design) -> Iterator[tuple[str, str, str]]:
    """The sheets of every output that is a drawing, but for the index of them, without border and title strip."""
    from fedfrom.documents.registry import all_outputs

    for output in all_outputs():
        if output.draw is None or output.name == "drawing-index":
            continue
        name = output.title.partition(" (")[0].lower()
        for sheet in output.draw(design).sheets:
            content = [shape for shape in sheet.shapes if not (isinstance(shape, Group) and shape.kind in _FRAME)]
            yield f"{name}/{sheet.number}", f"sheet {sheet.number}", repr(content)


def _schedules(design: Design) -> Iterator[tuple[str, str, str]]:
    from fedfrom.documents.schedules.pdf import schedules_data

    for sheet in schedules_data(design)["sheets"]:
        for item in sheet.get("items", ()):
            yield f"schedules/{item['tag']}", f"{item['tag']} {str(item['kind']).lower()}", _text(item)
        if "items" not in sheet:
            yield f"schedules/{sheet['sheet']}", str(sheet["sheet"]).capitalize(), _text(sheet)


def _text(content: Any) -> str:
    return json.dumps(content, default=str)


def _sections(design: Design) -> Iterator[tuple[str, str, str]]:
    from fedfrom.documents.specification.facts import spec_facts
    from fedfrom.documents.specification.sections import sections_of

    for section in sections_of(spec_facts(design)):
        yield f"specification/{section.number}", f"section {section.number} {section.title.lower()}", repr(section)
