"""Gathers the findings of an expansion: one cause, one finding, however many turns or uses run into it."""

from __future__ import annotations

from dataclasses import dataclass, field

from fedfrom.findings import Finding, Label, Severity
from fedfrom.source import Span


@dataclass
class Report:
    """Findings in the order of their discovery; of two at the same place under the same rule, only the first."""

    _findings: dict[tuple[str, Span | None, str], Finding] = field(default_factory=dict)

    def add(self, finding: Finding) -> None:
        """A finding at a span is known by rule and span; without a span by its subject too."""
        subject = "" if finding.span is not None else finding.subject
        self._findings.setdefault((finding.rule, finding.span, subject), finding)

    def error(
        self, rule: str, subject: str, message: str, span: Span, advice: str = "", related: tuple[Label, ...] = ()
    ) -> None:
        self.add(Finding(rule, Severity.ERROR, subject, message, span, "", related, (), advice))

    def warning(self, rule: str, subject: str, message: str, span: Span, advice: str = "") -> None:
        self.add(Finding(rule, Severity.WARNING, subject, message, span, help=advice))

    def note(self, rule: str, subject: str, message: str, span: Span, advice: str = "") -> None:
        self.add(Finding(rule, Severity.NOTE, subject, message, span, help=advice))

    @property
    def findings(self) -> tuple[Finding, ...]:
        return tuple(self._findings.values())
