"""`Case`: an expectation of the text with its outcome, for forms that report tests."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.source import Span


@dataclass(frozen=True, slots=True)
class Case:
    """One expectation. `passed` None: it could not be checked, and `message` says what it needs.

    `suite` names the project; `message` what was measured.
    """

    suite: str
    name: str
    passed: bool | None
    message: str
    span: Span | None = None
