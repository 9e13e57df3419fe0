"""What stands on each sheet and in each section, as text that can be compared: for `fedfrom diff`."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from fedfrom.rules.registry import Design

_TAGS = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_-]*")


@dataclass(frozen=True, slots=True)
class SheetContent:
    """`key` "one-line diagram/E-601"; `fingerprint` of all on it but the title block; `tags` that stand on it."""

    key: str
    title: str
    fingerprint: str
    tags: frozenset[str]


def sheet_list(design: Design) -> tuple[SheetContent, ...]:
    """Every sheet of the one-line diagram and of the schedules, and every section of the specification, in order.

    The design's digest and the count of findings stand in every title block; they are left out.
    """
    neutral = replace(design, results=replace(design.results, digest="", findings=()))
    found: dict[str, SheetContent] = {}
    for key, title, content in (*_one_line(neutral), *_schedules(neutral), *_sections(neutral)):
        tags = frozenset(_TAGS.findall(content)) & frozenset(design.model.items)
        found.setdefault(key, SheetContent(key, title, hashlib.sha256(content.encode()).hexdigest(), tags))
    return tuple(found.values())


def _one_line(design: Design) -> Iterator[tuple[str, str, str]]:
    from fedfrom.drawing.one_line import one_line

    for sheet in one_line(design.results, design.network, design.plan).sheets:
        yield f"one-line diagram/{sheet.number}", f"sheet {sheet.number}", repr(sheet.shapes)


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
