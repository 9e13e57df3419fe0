"""Expands a text in memory and shows what came of it as plain text, for the tests of expansion."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from textwrap import dedent

from fedfrom.findings import Finding, sort_findings
from fedfrom.model.expand import Expanded, expand
from fedfrom.model.expand_lines import head_text, lines_in, run_text
from fedfrom.model.expand_project import project_of_text
from fedfrom.source import Span
from fedfrom.syntax.tree import Accept, Expect, Line, Statement


@dataclass(frozen=True)
class Shown:
    """An expansion: its lines as text (two blanks deeper in each block), and the findings of reading and expanding."""

    expanded: Expanded
    text: str
    findings: tuple[Finding, ...]

    @property
    def rules(self) -> list[str]:
        return [finding.rule for finding in self.findings]

    def only(self, rule: str) -> Finding:
        """The one finding there is; fails where there are others."""
        assert self.rules == [rule], [f"{f.rule}: {f.message}" for f in self.findings]
        return self.findings[0]

    def marked(self, span: Span | None) -> str:
        """The letters that a span marks."""
        assert span is not None
        return self.expanded.files[span.file].text[span.start : span.end]

    def line(self, start: str) -> Line:
        """The first line whose text begins so."""
        return next(line for line in lines_in(self.expanded.tree.statements) if head_text(line).startswith(start))


def expanded(text: str, files: Mapping[str, str] | None = None) -> Shown:
    """Expand a text (indentation in common is taken off)."""
    texts = {name: dedent(content) for name, content in (files or {}).items()}
    project = project_of_text(dedent(text), "project.fed", texts)
    result = expand(project)
    return Shown(result, plain_text(result.tree.statements), sort_findings((*project.findings, *result.findings)))


def plain_text(statements: Iterable[Statement]) -> str:
    return "\n".join(_lines(statements, 0))


def _lines(statements: Iterable[Statement], depth: int) -> Iterable[str]:
    for statement in statements:
        if isinstance(statement, Line):
            unread = "  # unreadable" if statement.unreadable else ""
            yield "  " * depth + head_text(statement) + (" {" if statement.block is not None else "") + unread
            if statement.block is not None:
                yield from _lines(statement.block.statements, depth + 1)
                yield "  " * depth + "}"
        elif isinstance(statement, Accept):
            on = ", ".join(f'{r.word.text} "{r.text.text}"' if r.text else r.word.text for r in statement.references)
            yield f'{"  " * depth}accept {statement.rule.text} on {on} because "{statement.reason.text}"'
        elif isinstance(statement, Expect):
            left, right = run_text(statement.left), run_text(statement.right)
            yield f"{'  ' * depth}expect {left} {statement.compare} {right}"
