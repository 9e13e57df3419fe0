"""`read_model`: a path -> the typed model of the project, with the texts and every finding of reading it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from fedfrom.findings import Finding, Severity, sort_findings
from fedfrom.model.build import build
from fedfrom.model.build_own_tables import WORDS, own_tables
from fedfrom.model.csv_table import CsvTable
from fedfrom.model.expand import expand
from fedfrom.model.expand_project import ParsedProject, project_of_text, read_project
from fedfrom.model.items import Model
from fedfrom.model.lower import lower
from fedfrom.source import SourceFile, Span

_TAGS = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_-]*")


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
    built = build(
        lowered,
        incomplete=expanded.incomplete or unread,
        lost_words=_words_of_broken_lines(project),
        some_missing=expanded.incomplete,
    )
    model, found = _with_own_tables(project, built.model)
    own = one_for_each_place((*lowered.findings, *built.findings, *found))
    findings = sort_findings((*project.findings, *expanded.findings, *own))
    return Reading(expanded.files, model, findings)


def _with_own_tables(project: ParsedProject, model: Model) -> tuple[Model, list[Finding]]:
    """The model with the tables of limits and dimensions that its project names."""
    tables: dict[str, CsvTable | None] = {}
    for word in WORDS:
        fact = model.project.facts.first(word)
        if fact is not None:
            tables[word] = project.table(fact.span.file, str(fact.values.get("path", "")))
    if not tables:
        return model, []
    own, findings = own_tables(model, tables)
    return replace(model, own_tables=own), findings


def _words_of_broken_lines(project: ParsedProject) -> frozenset[str]:
    """Every word on a line that could not be parsed: one of them may be a tag that is named elsewhere."""
    words: set[str] = set()
    for finding in project.findings:
        source = project.files.get(finding.span.file) if finding.span is not None else None
        if finding.severity is Severity.ERROR and finding.span is not None and source is not None:
            line = source.line_text(source.place(finding.span.start).line)
            words.update(_TAGS.findall(line))
    return frozenset(words)


def one_for_each_place(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """One finding for each rule and place: a line of a typical that is used ten times is one cause.

    The first stays, with a note that counts the others.
    """
    groups: dict[tuple[str, Span | None], list[Finding]] = {}
    for finding in findings:
        groups.setdefault((finding.rule, finding.span), []).append(finding)
    kept = []
    for found in groups.values():
        subjects = list(dict.fromkeys(finding.subject for finding in found))
        first = found[0]
        if len(subjects) > 1:
            also = ", ".join(subjects[1:4]) + (" …" if len(subjects) > 4 else "")
            note = f"the same line says it for {len(subjects) - 1} more: {also}"
            first = replace(first, notes=(*first.notes, note))
        kept.append(first)
    return tuple(kept)
