"""The sheets of the one-line diagram inside a page: the writer's SVG, its styles kept to its own sheet, no fonts."""

from __future__ import annotations

import re
from dataclasses import dataclass

from fedfrom.rules.registry import Design

_STYLE = re.compile(r"<style>\n(.*?)</style>\n", re.DOTALL)
_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")


@dataclass(frozen=True, slots=True)
class InlineSheet:
    """A sheet for the page: number, title, the `svg` element and the style rules for it."""

    number: str
    title: str
    svg: str
    style: str


def inline_sheets(design: Design) -> tuple[InlineSheet, ...]:
    """Every sheet of the one-line diagram, in order."""
    from fedfrom.documents.one_line import draw
    from fedfrom.drawing.svg import write_svg

    found = []
    for index, sheet in enumerate(draw(design).sheets, 1):
        text = write_svg(sheet).decode()
        match = _STYLE.search(text)
        rules = match[1] if match else ""
        svg = _STYLE.sub("", text).partition("?>\n")[2].strip()
        svg = svg.replace("<svg ", f'<svg id="sheet-{index}" class="sheet" role="img" ', 1)
        found.append(InlineSheet(sheet.number, sheet.title, svg, _scoped(rules, f"#sheet-{index}")))
    return tuple(found)


def font_faces() -> str:
    """The shipped fonts as style rules, once for the page."""
    from fedfrom.drawing.svg import font_face_rules

    return "\n".join(font_face_rules())


def _scoped(rules: str, scope: str) -> str:
    """The rules with `scope` before every selector, without the fonts."""
    lines = []
    for match in _RULE.finditer(rules):
        selectors = [selector.strip() for selector in match[1].split(",")]
        if any(selector.startswith("@") for selector in selectors):
            continue
        scoped = (scope if selector == "svg" else f"{scope} {selector}" for selector in selectors)
        lines.append(f"{','.join(scoped)}{{{match[2]}}}")
    return "\n".join(lines)
