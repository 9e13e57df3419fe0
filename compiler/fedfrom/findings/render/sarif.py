"""Findings as SARIF 2.1.0 (OASIS standard), columns in Unicode code points."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any
from urllib.parse import quote

from fedfrom import __version__
from fedfrom.findings.finding import Finding, Severity
from fedfrom.findings.render.json import place_object
from fedfrom.source import SourceFile, Span

_LEVELS = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.NOT_CHECKED: "warning", Severity.NOTE: "note"}


def render(findings: Sequence[Finding], files: Mapping[str, SourceFile], *, color: bool = False) -> str:
    """One run with a rule table of the rules that occur."""
    del color
    rules = sorted({finding.rule for finding in findings})
    run = {
        "tool": {"driver": {"name": "fedfrom", "version": __version__, "rules": [{"id": rule} for rule in rules]}},
        "columnKind": "unicodeCodePoints",
        "results": [_result(finding, rules, files) for finding in findings],
    }
    document = {
        "$schema": "https://json.schemastore.org/sarif-2.1.0.json",
        "version": "2.1.0",
        "runs": [run],
    }
    return json.dumps(document, indent=2, ensure_ascii=False) + "\n"


def _result(finding: Finding, rules: Sequence[str], files: Mapping[str, SourceFile]) -> dict[str, Any]:
    words = [finding.message, *finding.notes]
    words += [f"Help: {finding.help}"] if finding.help else []
    words += [f"Clause: {finding.clause}"] if finding.clause else []
    result: dict[str, Any] = {
        "ruleId": finding.rule,
        "ruleIndex": rules.index(finding.rule),
        "level": _LEVELS[finding.severity],
        "message": {"text": "\n".join(words)},
        "properties": {"subject": finding.subject, "severity": finding.severity.word},
    }
    if finding.span is not None:
        result["locations"] = [_location(finding.span, finding.label, files)]
    if finding.related:
        result["relatedLocations"] = [_location(label.span, label.text, files) for label in finding.related]
    return result


def _location(span: Span, text: str, files: Mapping[str, SourceFile]) -> dict[str, Any]:
    place = place_object(span, files)
    physical: dict[str, Any] = {"artifactLocation": {"uri": quote(span.file, safe="/")}}
    if place["line"] is not None:
        physical["region"] = {
            "startLine": place["line"],
            "startColumn": place["column"],
            "endLine": place["end_line"],
            "endColumn": place["end_column"],
        }
    location: dict[str, Any] = {"physicalLocation": physical}
    if text:
        location["message"] = {"text": text}
    return location
