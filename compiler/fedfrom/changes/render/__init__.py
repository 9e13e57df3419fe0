"""A comparison in a form chosen by name: one file a form, each with `render(difference) -> str`."""

from __future__ import annotations

import importlib
import pkgutil

import fedfrom.changes.render as here
from fedfrom.changes.types import Difference

# Modules of this folder that are no forms.
_NOT_FORMS = frozenset({"view"})


def forms() -> tuple[str, ...]:
    """The names of the forms, sorted, with `text` first."""
    names = sorted(info.name for info in pkgutil.iter_modules(here.__path__) if info.name not in _NOT_FORMS)
    return ("text", *(name for name in names if name != "text"))


def render_difference(form: str, difference: Difference) -> str:
    """The comparison in a form of `forms()`; ends with a line end."""
    text: str = importlib.import_module(f"fedfrom.changes.render.{form}").render(difference)
    return text
