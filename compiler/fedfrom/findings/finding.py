"""`Finding`: one cause, one record; returned, never raised."""

from __future__ import annotations

import enum
from collections.abc import Iterable
from dataclasses import dataclass

from fedfrom.source import Span


class Severity(enum.IntEnum):
    """How grave a finding is. NOT_CHECKED says that an input is missing: it is never a pass."""

    NOTE = 0
    NOT_CHECKED = 1
    WARNING = 2
    ERROR = 3

    @property
    def word(self) -> str:
        return {0: "note", 1: "not checked", 2: "warning", 3: "error"}[self.value]


@dataclass(frozen=True, slots=True)
class Label:
    """Another place that takes part in a finding."""

    span: Span
    text: str


@dataclass(frozen=True, slots=True)
class Edit:
    """Replace the text at `span`."""

    span: Span
    text: str


@dataclass(frozen=True, slots=True)
class Fix:
    """A change of the text that would mend the finding. An unsafe fix is only offered, never applied by itself."""

    title: str
    edits: tuple[Edit, ...]
    safe: bool


@dataclass(frozen=True, slots=True)
class Finding:
    """What is wrong (or not known, or worth a note), where, and what to do.

    `rule` is the readable id ("unknown-tag"); `subject` the thing in the trade's words, stable under edits above it
    ("LP1.3"); `message` one line, true on its own, without advice; `help` what to do; `clause` standard, edition and
    clause, or "common practice, no source"; `notes` the numbers compared and the state in which it is worst;
    `span` None only where there is no text to point at (a missing file).
    """

    rule: str
    severity: Severity
    subject: str
    message: str
    span: Span | None
    label: str = ""
    related: tuple[Label, ...] = ()
    notes: tuple[str, ...] = ()
    help: str = ""
    clause: str = ""
    fix: Fix | None = None


def sort_findings(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings in the order of output: by place, rule, subject and message; equal ones once."""

    def key(finding: Finding) -> tuple[str, int, int, str, str, str]:
        span = finding.span or Span("", 0, 0)
        return (span.file, span.start, span.end, finding.rule, finding.subject, finding.message)

    return tuple(sorted(dict.fromkeys(findings), key=key))
