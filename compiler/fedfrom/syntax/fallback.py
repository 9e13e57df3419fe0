"""The sentence for a line that no entry of the table of mistakes knows: what stands there, and what could."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fedfrom.findings import Finding, Severity
from fedfrom.source import Span

if TYPE_CHECKING:
    from lark.exceptions import UnexpectedInput

_NAMES = {
    "WORD": "a word or number",
    "TEXT": "a text in quotes",
    "_NL": "the end of the line",
    "$END": "the end of the line",
    "OPEN": "`{`",
    "CLOSE": "`}`",
    "OPEN_LIST": "`(`",
    "CLOSE_LIST": "`)`",
    "_COMMA": "`,`",
    "_COLON": "`:`",
    "_TO": "`..`",
    "COMPARE": "a comparison",
    "_IN": "`in`",
    "_ON": "`on`",
    "_BECAUSE": "`because`",
}


def expected_instead(error: UnexpectedInput, source: str, file: str, start: int, subject: str) -> Finding:
    """A finding from the parser's own state.

    `source` stands at `start` of the file and was parsed with one line end put before it.
    """
    from lark.exceptions import UnexpectedCharacters, UnexpectedToken

    at = len(source.rstrip())
    found = "the line ends"
    length = 1
    expected: list[str] = []
    if isinstance(error, UnexpectedCharacters):
        at = max((error.pos_in_stream or 1) - 1, 0)
        expected = list(error.allowed or ())
    elif isinstance(error, UnexpectedToken):
        expected = list(error.accepts or error.expected)
        if error.token.type not in {"_NL", "$END"}:
            at = max((error.token.start_pos or 1) - 1, 0)
            length = len(error.token)
    if at < len(source.rstrip()):
        found = f"`{source[at : at + length]}` cannot stand"
    at = min(at, max(len(source.rstrip()) - 1, 0))
    could = sorted({_NAMES[name] for name in expected if name in _NAMES})
    return Finding(
        "invalid-line",
        Severity.ERROR,
        subject,
        f"{found} here" if found.startswith("`") else f"{found} too early",
        Span(file, start + at, start + min(at + length, max(len(source), 1))),
        label="not expected" if found.startswith("`") else "after this",
        help="here can stand " + _either(could) if could else "write one statement on a line",
    )


def _either(names: list[str]) -> str:
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " or " + names[-1]
