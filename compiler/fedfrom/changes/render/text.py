"""A comparison for a person at a terminal."""

from __future__ import annotations

from fedfrom.changes.render.view import template_text, view
from fedfrom.changes.types import Difference


def render(difference: Difference) -> str:
    """Summary, what lowers safety, what was written, what comes of it."""
    import jinja2

    environment = jinja2.Environment(trim_blocks=True, lstrip_blocks=True, undefined=jinja2.StrictUndefined)
    return environment.from_string(template_text("changes.txt.j2")).render(view(difference)).rstrip("\n") + "\n"
