"""Findings as annotation lines of a hosted CI service: `::error file=…,line=…,col=…::message`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fedfrom.findings.finding import Finding, Severity
from fedfrom.findings.render.json import place_object
from fedfrom.source import SourceFile

_COMMANDS = {
    Severity.ERROR: "error",
    Severity.WARNING: "warning",
    Severity.NOT_CHECKED: "warning",
    Severity.NOTE: "notice",
}


def render(findings: Sequence[Finding], files: Mapping[str, SourceFile], *, color: bool = False) -> str:
    """One line a finding; a column only where the span is on one line."""
    del color
    return "".join(_line(finding, files) + "\n" for finding in findings)


def _line(finding: Finding, files: Mapping[str, SourceFile]) -> str:
    place = place_object(finding.span, files)
    fields = []
    if place["file"]:
        fields.append(f"file={_property(place['file'])}")
    if place["line"]:
        fields.append(f"line={place['line']}")
        fields.append(f"endLine={place['end_line']}")
        if place["line"] == place["end_line"]:
            fields += [f"col={place['column']}", f"endColumn={place['end_column']}"]
    fields.append(f"title={_property(finding.rule)}")
    message = finding.message + (f"\nhelp: {finding.help}" if finding.help else "")
    return f"::{_COMMANDS[finding.severity]} {','.join(fields)}::{_data(message)}"


def _data(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
