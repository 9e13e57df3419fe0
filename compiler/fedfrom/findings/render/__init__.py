"""One file a form, chosen by name: `text`, `json`, `sarif`, `annotations`, `junit`.

Each has `render(findings, files, **options) -> str`. Adding a form is adding a file here. One that sets
`WITH_CASES` also gets the expectations of the text with their outcome.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping, Sequence

import fedfrom.findings.render as here
from fedfrom.findings.case import Case
from fedfrom.findings.finding import Finding
from fedfrom.source import SourceFile


def forms() -> tuple[str, ...]:
    """The names of the forms, sorted, with `text` first."""
    names = sorted(info.name for info in pkgutil.iter_modules(here.__path__))
    return ("text", *(name for name in names if name != "text"))


def render_findings(
    form: str,
    findings: Sequence[Finding],
    files: Mapping[str, SourceFile],
    *,
    color: bool = False,
    cases: Sequence[Case] = (),
) -> str:
    """The findings in a form of `forms()`; ends with a line end unless empty."""
    module = importlib.import_module(f"fedfrom.findings.render.{form}")
    more = {"cases": cases} if getattr(module, "WITH_CASES", False) else {}
    text: str = module.render(findings, files, color=color, **more)
    return text
