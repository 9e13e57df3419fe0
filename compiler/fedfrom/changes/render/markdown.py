"""A comparison as a comment on a merge request: GitHub-flavoured Markdown, details folded."""

from __future__ import annotations

import re

from fedfrom.changes.render.view import template_text, view
from fedfrom.changes.types import Difference

# Characters that would start markup; `|` would end a cell. User text may hold any of them.
_ESCAPED = re.compile(r"([\\`*_<>\[\]#|~])")


# What a hosted git service takes in one comment is 65 536 characters.
LONGEST = 60_000
# What is left out, one after the other, until the comment fits.
_NAMES = {
    "bill": "the bill",
    "figures": "fault currents and voltage drops",
    "lowering_reasons": "reasons for what lowers safety",
    "findings": "findings",
    "selections": "the table of consequences",
}


def render(difference: Difference, limit: int = LONGEST) -> str:
    """Summary, what lowers safety, tables of consequences with reasons; bill and sheets in folds.

    A text longer than `limit` characters leaves parts out, the least needed first, and says so.
    """
    import jinja2

    environment = jinja2.Environment(trim_blocks=True, lstrip_blocks=True, undefined=jinja2.StrictUndefined)
    environment.filters["md"] = escaped
    template = environment.from_string(template_text("changes.md.j2"))
    parts = {**view(difference), "left_out": []}
    parts["lowering_reasons"] = parts["lowering"]
    text = template.render(parts)
    for name in _NAMES:
        if len(text) <= limit:
            break
        if parts[name]:
            parts = {**parts, name: [], "left_out": [*parts["left_out"], _NAMES[name]]}
            text = template.render(parts)
    return text.rstrip("\n") + "\n"


def escaped(text: object) -> str:
    """Text as Markdown shows it unchanged, an arrow as an arrow; what stands between backticks is code."""
    parts = " ".join(str(text).split()).replace(" -> ", " → ").split("`")
    if len(parts) % 2 == 0:  # a backtick that quotes nothing
        parts = ["'".join(parts)]
    shown = (_code(part) if index % 2 else _ESCAPED.sub(r"\\\1", part) for index, part in enumerate(parts))
    return "".join(shown)


def _code(text: str) -> str:
    """Text as code; a stroke would still end a cell."""
    return "`" + text.replace("|", "\\|") + "`"
