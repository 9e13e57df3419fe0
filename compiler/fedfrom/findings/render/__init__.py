"""One file a form, chosen by name: `text`, `json`, `sarif`, `annotations`.

Each has `render(findings, files, **options) -> str`. Adding a form is adding a file here.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping, Sequence

import fedfrom.findings.render as here
from fedfrom.findings.finding import Finding
from fedfrom.source import SourceFile


def forms() -> tuple[str, ...]:
    """The names of the forms, sorted, with `text` first."""
    names = sorted(info.name for info in pkgutil.iter_modules(here.__path__))
    return ("text", *(name for name in names if name != "text"))


def render_findings(
    form: str, findings: Sequence[Finding], files: Mapping[str, SourceFile], *, color: bool = False
) -> str:
    """The findings in a form of `forms()`; ends with a line end unless empty."""
    module = importlib.import_module(f"fedfrom.findings.render.{form}")
    text: str = module.render(findings, files, color=color)
    return text
