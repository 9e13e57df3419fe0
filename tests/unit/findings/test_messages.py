"""Every message: what is wrong, where, and what to do, in the same form everywhere."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.language.test_markdown import HERE as PAGES
from tests.language.test_markdown import blocks_of

from fedfrom.findings import Finding
from fedfrom.model.read import read_text
from fedfrom.rules.registry import all_rules
from fedfrom.source import SourceFile
from fedfrom.syntax.parse import parse_file

PACKAGE = Path(__file__).parents[3] / "compiler/fedfrom"
MAKERS = re.compile(r"\b(?:Finding|breach|not_checked|missing|error|UsageError|OutputError)\(")
# Text that is to be written, in single quotes: it stands in back quotes.
QUOTED = re.compile(r"(?<![\w'])'[^'\s{][^'{}]*'(?!\w)")


def texts(node: ast.AST) -> Iterator[str]:
    """The literal text in an expression, each f-string joined, with `{}` for what is put in."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.JoinedStr):
        yield "".join(str(part.value) if isinstance(part, ast.Constant) else "{}" for part in node.values)
    elif isinstance(node, ast.IfExp):
        yield from texts(node.body)
        yield from texts(node.orelse)


def messages(file: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call):
            for argument in (*node.args, *(keyword.value for keyword in node.keywords)):
                yield from texts(argument)
        elif isinstance(node, ast.Assign) and getattr(node.targets[0], "id", "") in {"message", "advice", "help"}:
            yield from texts(node.value)


@pytest.mark.parametrize("package", ["rules", "model", "graph", "passes", "syntax", "cli"])
def test_what_is_to_be_written_stands_in_back_quotes(package: str) -> None:
    found = []
    for file in sorted((PACKAGE / package).glob("*.py")):
        source = file.read_text(encoding="utf-8")
        if MAKERS.search(source) and QUOTED.search(source):
            sentences = (text for text in messages(file) if re.match(r"[a-z`{].* ", text) and "\n" not in text)
            found += [f"{file.name}: {text}" for text in sentences if QUOTED.search(text)]
    assert found == []


def test_every_rule_says_what_and_why() -> None:
    for rule in all_rules():
        assert re.match(r"[a-z`1-9]", rule.title), rule.id
        assert not rule.title.endswith("."), rule.id
        assert len(rule.title) <= 110, rule.id
        assert rule.why.rstrip().endswith((".", "?")), rule.id
        assert rule.why[0].isupper() or not rule.why[0].isalpha(), rule.id


@pytest.mark.parametrize("page", sorted(PAGES.glob("*.md")), ids=lambda page: page.stem)
def test_every_finding_of_reading_says_where_and_what_to_do(page: Path) -> None:
    found: list[Finding] = []
    for block in blocks_of(page):
        if block.whole:
            found += read_text(block.text, "test.fed", block.files).findings
        else:
            found += parse_file(SourceFile("test.fed", block.text)).findings
    assert len(found) >= 10
    assert [finding.message for finding in found if not finding.help] == []
    assert [finding.message for finding in found if finding.span is None] == []
    assert [finding.message for finding in found if re.search(r"[.!]$|[A-Z]{6,}", finding.message)] == []
