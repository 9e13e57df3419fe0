"""`format_text`: one canonical form of a file, checked every time."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.editing.printer import Printer
from fedfrom.editing.verify import difference, same_comments
from fedfrom.findings import Finding, Severity
from fedfrom.source import SourceFile
from fedfrom.syntax.parse import parse_file
from fedfrom.syntax.tree import Tree


@dataclass(frozen=True, slots=True)
class Formatted:
    """The text in canonical form, or None with the findings that say why there is none."""

    text: str | None
    findings: tuple[Finding, ...] = ()


def format_text(source: SourceFile) -> Formatted:
    """The canonical form of a file; line ends as in its first line.

    A file that does not parse has none. What was made is read again: tree and comments must be the same, and a second
    run must change nothing. Where they are not, that is a bug of the formatter, and a finding, and no text.
    """
    plain = SourceFile(source.name, source.text.removeprefix("\ufeff").replace("\r\n", "\n"), source.path)
    parsed = parse_file(plain)
    if parsed.findings:
        return Formatted(None, parse_file(source).findings or parsed.findings)
    made = SourceFile(source.name, Printer(plain).file(parsed.tree), source.path)
    if made.text != plain.text and (why := _unsafe(plain, parsed.tree, made)):
        return _refused(source, why)
    crlf = source.text.partition("\n")[0].endswith("\r")
    return Formatted(made.text.replace("\n", "\r\n") if crlf else made.text)


def _unsafe(before: SourceFile, tree: Tree, made: SourceFile) -> str:
    """Why the text that was made may not take the place of the other; "" where it may."""
    again = parse_file(made)
    if again.findings:
        return f"the new text cannot be read: {again.findings[0].message}"
    if changed := difference(tree, again.tree):
        return changed
    if not same_comments(before, made):
        return "the comments are not the same"
    return "" if Printer(made).file(again.tree) == made.text else "a second run changes it again"


def _refused(source: SourceFile, why: str) -> Formatted:
    finding = Finding(
        "fmt-unsafe",
        Severity.ERROR,
        source.name,
        f"`{source.name}` cannot be formatted without a change of what it says: {why}",
        None,
        help="the file is left as it is; this is a bug of `fedfrom fmt`: please report it with the file",
    )
    return Formatted(None, (finding,))
