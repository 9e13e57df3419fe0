"""`parse_file`: the text of a file -> `Tree` and findings. The whole file first; only on failure line by line."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fedfrom.findings import Finding, sort_findings
from fedfrom.source import SourceFile
from fedfrom.syntax.build import Builder
from fedfrom.syntax.characters import LONE_RETURN, NEVER, clean
from fedfrom.syntax.fallback import expected_instead
from fedfrom.syntax.grammar import file_parser
from fedfrom.syntax.limits import beyond_limits
from fedfrom.syntax.recover import recover
from fedfrom.syntax.tree import Statement, Tree, Version

if TYPE_CHECKING:
    from lark.exceptions import UnexpectedInput


@dataclass(frozen=True, slots=True)
class Parsed:
    """What could be read of one file, and what is wrong with the rest.

    `tree` always holds everything that could be read; statements that could not are `Line`s with `unreadable=True`.
    """

    tree: Tree
    findings: tuple[Finding, ...]


def parse_file(source: SourceFile) -> Parsed:
    """Parse one file. Every problem of the text is a finding; nothing is raised."""
    refused = beyond_limits(source)
    if refused is not None:
        return Parsed(Tree(source.name, ()), (refused,))
    return _parse(source)


def _parse(source: SourceFile) -> Parsed:
    text = source.text
    if text.startswith("\ufeff"):
        text = " " + text[1:]
    clean_already = not (NEVER.search(text) or LONE_RETURN.search(text))
    whole, error = _whole(text, source.name) if clean_already else (None, None)
    if whole is not None and not whole.in_doubt:
        return Parsed(Tree(source.name, whole.statements), ())
    cleaned, findings, distrusted = clean(source.text, source.name)
    statements, more = recover(cleaned, source.name, frozenset(distrusted))
    findings.extend(more)
    if not findings:
        if whole is not None:
            return Parsed(Tree(source.name, whole.statements), ())
        _, error = _whole(cleaned, source.name) if error is None else (None, error)
        if error is not None:
            findings.append(expected_instead(error, cleaned, source.name, 0, ""))
    return Parsed(Tree(source.name, statements), sort_findings(findings))


@dataclass(frozen=True, slots=True)
class _Whole:
    """A file that parsed. `in_doubt`: some statement cannot be meant as it reads."""

    statements: tuple[Statement, ...]
    in_doubt: bool


def _whole(text: str, name: str) -> tuple[_Whole | None, UnexpectedInput | None]:
    from lark.exceptions import UnexpectedInput

    # A line end before the text lets a first line be a comment like any other; one after it ends the last statement.
    builder = Builder(name, -1)
    try:
        tree = file_parser().parse("\n" + text + "\n", start="file")
    except UnexpectedInput as error:
        return None, error
    statements = builder.file_statements(tree)
    misplaced = any(isinstance(statement, Version) for statement in statements[1:])
    return _Whole(statements, bool(builder.errors or builder.doubts or misplaced)), None
