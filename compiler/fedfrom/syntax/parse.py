"""`parse_file`: the text of a file -> `Tree` and findings. The whole file first; only on failure line by line."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.findings import Finding, Severity
from fedfrom.source import SourceFile, Span
from fedfrom.syntax.build import Builder
from fedfrom.syntax.grammar import file_parser
from fedfrom.syntax.tree import Tree


@dataclass(frozen=True, slots=True)
class Parsed:
    """What could be read of one file, and what is wrong with the rest."""

    tree: Tree
    findings: tuple[Finding, ...]


def parse_file(source: SourceFile) -> Parsed:
    """Parse one file."""
    from lark.exceptions import UnexpectedInput

    text = source.text
    if text.startswith("\ufeff"):
        text = " " + text[1:]
    builder = Builder(source.name, -1)
    try:
        tree = file_parser().parse("\n" + text + "\n", start="file")
    except UnexpectedInput as error:
        at = max((error.pos_in_stream or 0) - 1, 0)
        finding = Finding("invalid-line", Severity.ERROR, "", "the line cannot be read", Span(source.name, at, at + 1))
        return Parsed(Tree(source.name, ()), (finding,))
    return Parsed(Tree(source.name, builder.file_statements(tree)), ())
