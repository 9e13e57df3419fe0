"""Findings for a person at a terminal: message, place, excerpt with marks, notes, help, clause."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fedfrom.findings.finding import Finding, Label, Severity
from fedfrom.source import SourceFile, Span

WIDEST_EXCERPT = 150
_COLORS = {Severity.ERROR: "31", Severity.WARNING: "33", Severity.NOT_CHECKED: "35", Severity.NOTE: "36"}


def render(findings: Sequence[Finding], files: Mapping[str, SourceFile], *, color: bool = False) -> str:
    """Every finding as a paragraph, one blank line between them."""
    return "\n".join(render_one(finding, files, color=color) for finding in findings)


def render_one(finding: Finding, files: Mapping[str, SourceFile], *, color: bool = False) -> str:
    """One finding as a paragraph that ends with a line end."""
    paint = _COLORS[finding.severity]
    lines = [f"{_bold(finding.severity.word + '[' + finding.rule + ']', paint, color)}: {finding.message}"]
    places = [] if finding.span is None else [(finding.span, finding.label, True)]
    places += [(label.span, label.text, False) for label in finding.related]
    margin = _margin([span for span, _, _ in places], files)
    for span, text, is_main in places:
        lines += _excerpt(Label(span, text), files, margin, "^" if is_main else "-", paint if is_main else "36", color)
    if finding.span is None and finding.subject:
        lines.append(f"{' ' * margin} = subject: {finding.subject}")
    lines += [f"{' ' * margin} = note: {note}" for note in finding.notes]
    if finding.help:
        lines.append(f"{' ' * margin} = help: {finding.help}")
    if finding.clause:
        lines.append(f"{' ' * margin} = clause: {finding.clause}")
    return "\n".join(lines) + "\n"


def _margin(spans: Sequence[Span], files: Mapping[str, SourceFile]) -> int:
    numbers = [files[span.file].place(span.start).line for span in spans if span.file in files]
    return len(str(max(numbers, default=1)))


def _excerpt(
    label: Label, files: Mapping[str, SourceFile], margin: int, mark: str, paint: str, color: bool
) -> list[str]:
    source = files.get(label.span.file)
    if source is None:
        return [f"{' ' * margin}--> {label.span.file}"]
    start = source.place(label.span.start)
    end = source.place(max(label.span.end, label.span.start + 1))
    text = "".join(sign if sign.isprintable() else " " for sign in source.line_text(start.line))
    first = start.column - 1
    last = end.column - 1 if end.line == start.line else len(text)
    text, first, last = _window(text, first, max(last, first + 1))
    marks = " " * first + _bold(mark * (last - first), paint, color)
    words = f" {label.text}" if label.text else ""
    gutter = " " * margin
    return [
        f"{gutter}--> {label.span.file}:{start.line}:{start.column}",
        f"{gutter} |",
        f"{start.line:>{margin}} | {text}".rstrip(),
        f"{gutter} | {marks}{words}",
    ]


def _window(text: str, first: int, last: int) -> tuple[str, int, int]:
    """A very long line is cut to a window around the marks, with `...` where it is cut."""
    if len(text) <= WIDEST_EXCERPT:
        return text, first, last
    begin = max(0, first - WIDEST_EXCERPT // 3)
    end = min(len(text), begin + WIDEST_EXCERPT)
    head = "..." if begin else ""
    tail = "..." if end < len(text) else ""
    shift = len(head) - begin
    return head + text[begin:end] + tail, first + shift, max(first + shift + 1, min(last, end) + shift)


def _bold(text: str, paint: str, color: bool) -> str:
    return f"\x1b[1;{paint}m{text}\x1b[0m" if color else text
