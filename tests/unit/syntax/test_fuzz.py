"""Any text at all: never an exception, never a text that does not parse and gives no finding."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from fedfrom.source import SourceFile
from fedfrom.syntax.comments import blank_lines, comments
from fedfrom.syntax.grammar import file_parser
from fedfrom.syntax.parse import parse_file
from fedfrom.syntax.recover import recover
from fedfrom.syntax.tree import Block, Line, ListValue, Run, Statement, Text, Tree, Word

LANGUAGE = Path(__file__).parents[2] / "language"
SEEDS = [path.read_text(encoding="utf-8") for path in sorted(LANGUAGE.glob("*/*.fed"))]

SIGNS = st.sampled_from(
    [
        "{", "}", "(", ")", "[", "]", '"', "\\", ",", ":", "=", "..", ".", "-", "/", "%", "#", "#1", ";", "<=",
        "\n", "\r\n", " ", "\t", "\r", "\ufeff", "“", "”", "\u00a0", "°", "½", "\x00", "\ud800", "'",
        "x4", "1", "12,500", "2, 4", "1-3", "0", "a", "A", "LP-1", '"text"', "[n]", "[]", "[+]", "[n + 1]", "{n}",
        "for", "in", "use", "typical", "fedfrom", "include", "accept", "on", "because", "expect", "new", "fed from",
    ]
)  # fmt: skip
TEXTS = st.one_of(
    st.lists(SIGNS, max_size=40).map("".join), st.lists(SIGNS, max_size=30).map(" ".join), st.text(max_size=60)
)


def spans_are_inside(tree: Tree, size: int) -> None:
    """Every place of the tree lies in the text, and in the place of what holds it."""

    def parts(item: Run | ListValue, start: int, end: int) -> None:
        assert start <= item.span.start < item.span.end <= end
        for part in item.parts if isinstance(item, Run) else item.values:
            if isinstance(part, Word | Text):
                assert item.span.start <= part.span.start < part.span.end <= item.span.end
            else:
                parts(part, item.span.start, item.span.end)

    def statement(item: Statement, start: int, end: int) -> None:
        assert start <= item.span.start < item.span.end <= end
        if isinstance(item, Line):
            assert item.runs
            assert item.runs[0].parts
            for run in item.runs:
                parts(run, item.span.start, item.span.end)
        block = getattr(item, "block", None)
        if isinstance(block, Block):
            for inner in block.statements:
                statement(inner, item.span.start, item.span.end)

    for item in tree.statements:
        statement(item, 0, size)


def check(text: str) -> None:
    from lark.exceptions import UnexpectedInput

    source = SourceFile("test.fed", text)
    parsed = parse_file(source)
    spans_are_inside(parsed.tree, len(text))
    for finding in parsed.findings:
        assert finding.span is not None
        assert 0 <= finding.span.start <= finding.span.end <= len(text) + 1
        assert finding.message
        assert finding.help
    if not parsed.findings:
        try:
            file_parser().parse("\n" + text.removeprefix("\ufeff") + "\n", start="file")
        except UnexpectedInput as error:
            raise AssertionError("a text that does not parse has no finding") from error
        for by_blocks in (True, False):
            again, _ = recover(text.replace("\ufeff", " ", 1), "test.fed", frozenset(), by_blocks=by_blocks)
            assert again == parsed.tree.statements
    comments(source)
    blank_lines(source)


@given(TEXTS)
@settings(max_examples=120, deadline=None, derandomize=True)
def test_any_text(text: str) -> None:
    check(text)


@given(st.sampled_from(SEEDS), st.data())
@settings(max_examples=25, deadline=None, derandomize=True)
def test_a_program_with_pieces_cut_out_and_put_in(program: str, data: st.DataObject) -> None:
    start = data.draw(st.integers(0, max(len(program) - 400, 0)))
    text = program[start : start + 400]
    for _ in range(data.draw(st.integers(1, 3))):
        at = data.draw(st.integers(0, len(text)))
        text = text[:at] + data.draw(SIGNS) + text[at + data.draw(st.integers(0, 12)) :]
    check(text)


def test_the_check_fails_when_a_finding_is_missing() -> None:
    from fedfrom.syntax.parse import Parsed

    assert parse_file(SourceFile("test.fed", "a = b")) != Parsed(Tree("test.fed", ()), ())
