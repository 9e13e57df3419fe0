"""Reading of template files, alike in a checkout, an editable install and a wheel."""

from __future__ import annotations

from importlib.resources import files


def template_text(name: str) -> str:
    """The text of a file of `templates/`, by its path with "/"."""
    return (files("fedfrom.templates") / name).read_text(encoding="utf-8")
