"""Gathers the findings of an expansion: one cause, one finding, however many turns or uses run into it."""

from __future__ import annotations

from dataclasses import dataclass, field

from fedfrom.findings import Finding, Label, Severity
from fedfrom.source import Span

GIVEN_HERE = "given here"


@dataclass
class Report:
    """Findings in the order of their discovery.

    Of two at the same place under the same rule only the first counts, and of those that blame the same given value.
    """

    _findings: dict[tuple[str, Span | None, str], Finding] = field(default_factory=dict)
    _blamed: set[Span] = field(default_factory=set)

    def add(self, finding: Finding) -> None:
        """A finding at a span is known by rule and span; without a span by its subject too."""
        subject = "" if finding.span is not None else finding.subject
        key = (finding.rule, finding.span, subject)
        blamed = {label.span for label in finding.related if label.text == GIVEN_HERE}
        if key not in self._findings and not blamed & self._blamed:
            self._findings[key] = finding
        self._blamed |= blamed

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
