"""Places as seen from where the command was called, and the project that a file belongs to."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path

from fedfrom.findings import Finding, Label
from fedfrom.findings.finding import Edit
from fedfrom.source import SourceFile, Span

_VERSION = re.compile(r"^\s*(?:#[^\n]*\n\s*)*fedfrom\s+\d", re.ASCII)
_INCLUDE = re.compile(r'^\s*include\s+"([^"]+)"', re.MULTILINE)


def folder_from_here(path: Path) -> str:
    """The folder of a project as seen from the working directory, with "/" at its end; "" for that directory itself."""
    folder = path if path.is_dir() or not path.suffix else path.parent
    try:
        seen = os.path.relpath(folder.absolute(), Path.cwd())
    except ValueError:  # another drive
        seen = str(folder.absolute())
    seen = seen.replace(os.sep, "/")
    return "" if seen == "." else f"{seen}/"


def from_here(
    findings: Iterable[Finding], files: Mapping[str, SourceFile], path: Path
) -> tuple[tuple[Finding, ...], dict[str, SourceFile]]:
    """Findings and texts of a project with the names that its files have in the working directory.

    A service that shows findings beside the text, and a terminal that opens a place, know only such names.
    """
    folder = folder_from_here(path)
    named = {folder + name: SourceFile(folder + name, source.text, source.path) for name, source in files.items()}
    return tuple(_moved(finding, folder) for finding in findings), named


def _moved(finding: Finding, folder: str) -> Finding:
    def at(span: Span) -> Span:
        return replace(span, file=folder + span.file)

    fix = finding.fix
    if fix is not None:
        fix = replace(fix, edits=tuple(Edit(at(edit.span), edit.text) for edit in fix.edits))
    related = tuple(Label(at(label.span), label.text) for label in finding.related)
    return replace(finding, span=at(finding.span) if finding.span else None, related=related, fix=fix)


def projects_of(paths: Iterable[Path]) -> tuple[Path, ...]:
    """The projects to which files belong, each once, in the order of the files.

    A file belongs to the folder above it that holds a `project.fed`; else it is a project itself where it begins with
    the version line; else to the file beside it that includes it. A file that belongs to nothing is returned as it is.
    """
    return tuple(dict.fromkeys(_project_of(path) for path in paths))


def _project_of(path: Path) -> Path:
    if path.is_dir():
        return path
    for folder in path.absolute().parents:
        if (folder / "project.fed").is_file():
            return Path(os.path.relpath(folder, Path.cwd()))
        if (folder / ".git").exists():
            break
    text = _text(path)
    if _VERSION.match(text):
        return path
    for other in sorted(path.parent.glob("*.fed")):
        if path.name in _INCLUDE.findall(_text(other)):
            return other
    return path


def _text(path: Path) -> str:
    try:
        if not path.is_file():  # a pipe would be waited for
            return ""
        return path.read_text(encoding="utf-8", errors="replace")
    except OSError:
        return ""
