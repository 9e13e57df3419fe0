"""What is not read: one finding, with its rule, on its line, and the way out in its help."""

from __future__ import annotations

import pytest

from fedfrom.findings import Severity
from fedfrom.source import SourceFile
from fedfrom.syntax.mistakes import Mistake, all_mistakes
from fedfrom.syntax.parse import parse_file

MISTAKES = all_mistakes()


def program(line: str) -> tuple[str, int]:
    """A small program around a line, and the number of the line in it (from 1)."""
    closing = "}\n" if line.rstrip().endswith("{") else ""
    if line.startswith("fedfrom"):
        return f'{line}\nproject "x" {{ }}\n', 1
    if line.startswith("    "):
        return f"fedfrom 1\npanelboard LP9 {{\n{line}\n{closing}}}\nnoncoincident A or B\n", 3
    return f"fedfrom 1\n{line}\n{closing}noncoincident A or B\n", 2


@pytest.mark.parametrize("mistake", MISTAKES, ids=lambda mistake: mistake.wrong.strip())
def test_mistake(mistake: Mistake) -> None:
    """Every entry of the table: its wrong line gives its sentence and no other finding, its right line gives none."""
    text, number = program(mistake.wrong)
    source = SourceFile("test.fed", text)
    found = parse_file(source).findings
    assert [(finding.rule, finding.severity) for finding in found] == [(mistake.rule, Severity.ERROR)]
    assert found[0].span is not None
    assert source.place(found[0].span.start).line == number
    assert found[0].message.startswith(mistake.message.partition("{")[0])
    assert "{" not in found[0].message.replace("{{", "").partition("`{")[0]
    assert parse_file(SourceFile("test.fed", program(mistake.right)[0])).findings == ()


@pytest.mark.parametrize("mistake", [m for m in MISTAKES if m.repair is not None], ids=lambda m: m.wrong.strip())
def test_repair(mistake: Mistake) -> None:
    """A repair that is offered leaves a line that parses."""
    text, _ = program(mistake.wrong)
    (finding,) = parse_file(SourceFile("test.fed", text)).findings
    assert finding.fix is not None
    for edit in sorted(finding.fix.edits, key=lambda edit: edit.span, reverse=True):
        text = text[: edit.span.start] + edit.text + text[edit.span.end :]
    assert parse_file(SourceFile("test.fed", text)).findings == ()


@pytest.mark.parametrize("mistake", MISTAKES, ids=lambda mistake: mistake.wrong.strip())
def test_words(mistake: Mistake) -> None:
    """The style of a finding: no blame, no "illegal", the advice in the help and not in the message."""
    for sentence in (mistake.message, mistake.help, mistake.label):
        assert sentence
        assert not sentence.endswith(".")
        assert not {"illegal", "please", "you", "your"} & set(sentence.lower().replace(",", " ").split())
    assert not mistake.message.startswith(("write", "remove", "use "))


REFUSED = [
    # (text, rule, line) for what is not in the table
    ("a }", "invalid-braces", 1),
    ("a {", "invalid-braces", 1),
    ("{ a }", "invalid-line", 1),
    ("a\nb {\n c\n", "invalid-braces", 2),
    ("a { b } c", "invalid-line", 1),
    ("a { b } { c }", "invalid-line", 1),
    ('a "x" b } ', "invalid-braces", 1),
    ("a\n{\n b\n}", "invalid-braces", 2),
    ("for n in 2.. { a }", "invalid-line", 1),
    ("for n in () in { a }", "invalid-line", 1),
    ("for { a }", "invalid-line", 1),
    ("for n in 1..2", "invalid-line", 1),
    ("typical F(a)", "invalid-line", 1),
    ("typical { a }", "invalid-line", 1),
    ("typical F(a,, b) { a }", "invalid-line", 1),
    ("use", "invalid-line", 1),
    ("use (a: 1)", "invalid-line", 1),
    ("use F(a: )", "invalid-line", 1),
    ("include", "invalid-line", 1),
    ('include "a" { }', "invalid-line", 1),
    ("accept", "invalid-line", 1),
    ("expect", "invalid-line", 1),
    ("a (b", "invalid-brackets", 1),
    ("a b)", "invalid-brackets", 1),
    ("a (b,\n  c\nd", "invalid-brackets", 1),
    ('a "x\ny"', "invalid-text", 1),
    ("fedfrom", "invalid-version", 1),
    ("fedfrom one", "invalid-version", 1),
    ("a\nfedfrom 1", "invalid-version", 2),
    ("a { fedfrom 1 }", "invalid-version", 1),
    ("a [b", "invalid-brackets", 1),
    ("a [b [c]]", "invalid-brackets", 1),
    ('a ["b"]', "invalid-brackets", 1),
    ("a [1 +]", "invalid-arithmetic", 1),
    ("a [b c]", "invalid-arithmetic", 1),
    ("a [1 2]", "invalid-arithmetic", 1),
    ("a [b ^ 2]", "invalid-arithmetic", 1),
    ("a [2b.c]", "invalid-arithmetic", 1),
    ("a [(b]", "invalid-arithmetic", 1),
    ("a [b)]", "invalid-arithmetic", 1),
    ("a [.5]", "invalid-arithmetic", 1),
    ("a [1, 2]", "invalid-arithmetic", 1),
    ("a [" + "1 + " * 60 + "1]", "invalid-arithmetic", 1),
    ('a "[b"', "invalid-arithmetic", 1),
    ("a\x00b", "invalid-character", 1),
    ("a # \x07", "invalid-character", 1),
    ('a "\u202e"', "invalid-character", 1),
    ("a\rb", "invalid-character", 1),
    ("a “b”", "invalid-character", 1),
    ("a\u00a0b", "invalid-character", 1),
    ("a\u200bb", "invalid-character", 1),
    ("größe 4", "invalid-character", 1),
    ("a\ud800", "invalid-character", 1),
]


@pytest.mark.parametrize(("text", "rule", "line"), REFUSED, ids=[repr(text)[:40] for text, _, _ in REFUSED])
def test_refused(text: str, rule: str, line: int) -> None:
    source = SourceFile("test.fed", text)
    found = parse_file(source).findings
    assert [finding.rule for finding in found] == [rule], [finding.message for finding in found]
    assert found[0].span is not None
    assert source.place(found[0].span.start).line == line
    assert found[0].help
    assert found[0].label
    assert "\n" not in found[0].message
