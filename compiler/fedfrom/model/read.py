"""`read_model`: a path -> the typed model of the project, with the texts and every finding of reading it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from fedfrom.findings import Finding, Severity, sort_findings
from fedfrom.model.build import build
from fedfrom.model.expand import expand
from fedfrom.model.expand_project import ParsedProject, project_of_text, read_project
from fedfrom.model.items import Model
from fedfrom.model.lower import lower
from fedfrom.source import SourceFile


@dataclass(frozen=True, slots=True)
class Reading:
    """The texts by name, the model (None where nothing could be read), and the findings in order of place."""

    files: Mapping[str, SourceFile]
    model: Model | None
    findings: tuple[Finding, ...]


def read_model(path: Path) -> Reading:
    """Reads a `.fed` file or a folder with a `project.fed`. Every problem is a finding; only a bug raises."""
    return _read(read_project(path))


def read_text(text: str, name: str = "test.fed", files: Mapping[str, str] | None = None) -> Reading:
    """Reads a text in memory, with the files that it may ask for by name (for tests and the rules' little programs)."""
    return _read(project_of_text(text, name, files))


def _read(project: ParsedProject) -> Reading:
    if not project.root:
        return Reading(project.files, None, sort_findings(project.findings))
    expanded = expand(project)
    lowered = lower(expanded.tree)
    unread = any(finding.severity is Severity.ERROR for finding in project.findings)
    built = build(lowered, incomplete=expanded.incomplete or unread)
    findings = (*project.findings, *expanded.findings, *lowered.findings, *built.findings)
    return Reading(expanded.files, built.model, sort_findings(findings))
