"""The difference of two texts, line by line, as `fmt --diff` and `pin --dry-run` show it."""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from fedfrom.source import SourceFile


def difference_lines(source: SourceFile, text: str, what: str, *, color: bool) -> Iterator[str]:
    """The lines of a unified difference between a file and its new text; `what` says what the new text is."""
    old, new = source.text.splitlines(), text.splitlines()
    for line in difflib.unified_diff(old, new, source.name, source.name, "now", what, 2, ""):
        yield _painted(line) if color else line
    if old == new and source.text != text:
        yield f"{source.name}: only line ends differ"


def _painted(line: str) -> str:
    if line.startswith(("---", "+++")) or line[:1] not in ("+", "-"):
        return line
    return f"\x1b[{'32' if line[0] == '+' else '31'}m{line}\x1b[0m"
