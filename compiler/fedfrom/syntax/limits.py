"""What is refused before it is parsed. The bounds are ours (no source): far above any real building."""

from __future__ import annotations

import re

from fedfrom.findings import Finding, Severity
from fedfrom.source import SourceFile, Span

#: Bytes of one file.
LARGEST_FILE = 5_000_000
#: Blocks, and round brackets, inside one another.
DEEPEST_NESTING = 32

_STRUCTURE = re.compile(r'"(?:[^"\\\r\n]|\\.)*"?|#[^\r\n]*|([{(])|([})])')


def beyond_limits(source: SourceFile) -> Finding | None:
    """A finding when the file is too large or nested too deeply to be read, else None."""
    text = source.text
    size = len(text) if len(text) * 4 <= LARGEST_FILE else len(text.encode("utf-8", "surrogatepass"))
    if size > LARGEST_FILE:
        return Finding(
            "file-too-large",
            Severity.ERROR,
            source.name,
            f"the file has {size} bytes; {LARGEST_FILE} can be read",
            Span(source.name, 0, 0),
            label="the file starts here",
            help="split it, with `include`",
        )
    if text.count("{") <= DEEPEST_NESTING and text.count("(") <= DEEPEST_NESTING:
        return None
    depth = 0
    for match in _STRUCTURE.finditer(text):
        if match[1]:
            depth += 1
        elif match[2]:
            depth = max(depth - 1, 0)
        if depth > DEEPEST_NESTING:
            return Finding(
                "nested-too-deep",
                Severity.ERROR,
                source.name,
                f"more than {DEEPEST_NESTING} blocks or brackets stand inside one another",
                Span(source.name, match.start(), match.end()),
                label=f"number {depth}",
                help="close the blocks before it, or remove what is not needed",
            )
    return None
