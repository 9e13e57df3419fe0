"""What several rules need: the review of sizing for a design, and a finding about wiring or a device."""

from __future__ import annotations

from collections.abc import Sequence

from fedfrom.findings import Finding, Severity
from fedfrom.passes.sizing_review import Review, review
from fedfrom.results.types import FeederResult
from fedfrom.rules.registry import Design
from fedfrom.source import Span


def review_of(design: Design) -> Review:
    """The sizing of the design laid open (made once for all rules that ask)."""
    return review(design.model, design.network, design.plan, design.results, design.edition)


def breach(
    rule: str,
    subject: str,
    message: str,
    span: Span | None,
    clause: str,
    notes: Sequence[str] = (),
    advice: str = "",
    severity: Severity = Severity.ERROR,
    label: str = "",
) -> Finding:
    """A finding of a sizing rule; `clause` is the text from `Edition.clause`."""
    return Finding(
        rule=rule,
        severity=severity,
        subject=subject,
        message=message,
        span=span,
        label=label,
        notes=tuple(notes),
        help=advice,
        clause=clause,
    )


def not_checked(rule: str, subject: str, needs: str, span: Span | None, clause: str, how: str = "") -> Finding:
    """A finding that a rule could not be checked, with the fact that it needs and, where it is not plain, `how`."""
    return Finding(
        rule=rule,
        severity=Severity.NOT_CHECKED,
        subject=subject,
        message=f"{subject}: not checked, needs {needs}",
        span=span,
        help=how or f"state {needs}",
        clause=clause,
    )


def of_the_utility(design: Design, feeder: FeederResult) -> bool:
    """Whether the utility brings the conductors of a feeder: the code's rules on them are not ours to check."""
    feed = design.network.edges[feeder.id].feed
    return feeder.by == "utility" or (feed is not None and feed.conductors.wire.by == "utility")
