"""What several commands share: the summary line, the failing severity and the exit code."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from typing import Any

import click

from fedfrom.findings import Finding, Severity

FAIL_ON = {
    "error": Severity.ERROR,
    "warning": Severity.WARNING,
    "not-checked": Severity.NOT_CHECKED,
    "note": Severity.NOTE,
}

CLEAN, FOUND, UNREADABLE = 0, 1, 2


def fail_on_option(function: Callable[..., Any]) -> Callable[..., Any]:
    """The option `--fail-on`."""
    return click.option(
        "--fail-on",
        type=click.Choice(list(FAIL_ON)),
        default="error",
        show_default=True,
        help="The least severity that makes the exit code 1.",
    )(function)


def counts_text(findings: Sequence[Finding]) -> str:
    """ "2 errors, 1 warning, 3 not checked", or "no findings"."""
    counts = Counter(finding.severity for finding in findings)
    words = []
    for severity in sorted(counts, reverse=True):
        number = counts[severity]
        plural = "s" if number != 1 and severity is not Severity.NOT_CHECKED else ""
        words.append(f"{number} {severity.word}{plural}")
    return ", ".join(words) or "no findings"


def exit_code(findings: Sequence[Finding], fail_on: str, *, readable: bool) -> int:
    """0, 1 or 2 as the design states it."""
    if not readable:
        return UNREADABLE
    return FOUND if any(finding.severity >= FAIL_ON[fail_on] for finding in findings) else CLEAN
