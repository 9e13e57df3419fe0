"""Findings for programs: a JSON object with a schema version; lines and columns from 1, in code points."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

from fedfrom.findings.finding import Finding
from fedfrom.source import SourceFile, Span

SCHEMA_VERSION = 1


def render(findings: Sequence[Finding], files: Mapping[str, SourceFile], *, color: bool = False) -> str:
    """The whole list as one document."""
    del color
    document = {"version": SCHEMA_VERSION, "findings": [finding_object(finding, files) for finding in findings]}
    return json.dumps(document, indent=2, ensure_ascii=False) + "\n"


def finding_object(finding: Finding, files: Mapping[str, SourceFile]) -> dict[str, Any]:
    """One finding as plain data."""
    return {
        "rule": finding.rule,
        "severity": finding.severity.word,
        "subject": finding.subject,
        "message": finding.message,
        **place_object(finding.span, files),
        "label": finding.label,
        "related": [{"text": label.text, **place_object(label.span, files)} for label in finding.related],
        "notes": list(finding.notes),
        "help": finding.help,
        "clause": finding.clause,
    }


def place_object(span: Span | None, files: Mapping[str, SourceFile]) -> dict[str, Any]:
    """`file, line, column, end_line, end_column`, each null where there is no place."""
    source = files.get(span.file) if span is not None else None
    if span is None or source is None:
        name = span.file if span is not None else None
        return {"file": name, "line": None, "column": None, "end_line": None, "end_column": None}
    start, end = source.place(span.start), source.place(span.end)
    return {
        "file": span.file,
        "line": start.line,
        "column": start.column,
        "end_line": end.line,
        "end_column": end.column,
    }
