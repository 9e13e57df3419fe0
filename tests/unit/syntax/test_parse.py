"""`parse_file` as a whole: programs, places, line ends, limits."""

from __future__ import annotations

import gc
from pathlib import Path

import pytest

from fedfrom.source import SourceFile
from fedfrom.syntax.limits import DEEPEST_NESTING, LARGEST_FILE
from fedfrom.syntax.parse import parse_file
from fedfrom.syntax.recover import recover
from fedfrom.syntax.tree import For, Line, Text, Typical, Use, Version

LANGUAGE = Path(__file__).parents[2] / "language"
PROGRAMS = sorted([*LANGUAGE.glob("programs/*.fed"), *LANGUAGE.glob("templates/*.fed")])


def source(text: str) -> SourceFile:
    return SourceFile("test.fed", text)


def test_there_are_programs() -> None:
    assert {"hospital-wing", "school-retrofit", "apartment-house"} <= {path.stem for path in PROGRAMS}


@pytest.mark.parametrize("path", PROGRAMS, ids=lambda path: path.stem)
class TestPrograms:
    def test_parses_without_a_finding(self, path: Path) -> None:
        parsed = parse_file(source(path.read_text(encoding="utf-8")))
        assert parsed.findings == ()
        assert len(parsed.tree.statements) > 10

    def test_line_by_line_gives_the_same_tree(self, path: Path) -> None:
        """The two ways of reading agree on every node and every place: nothing is lost when a file is broken."""
        text = path.read_text(encoding="utf-8")
        statements, findings = recover(text, "test.fed", frozenset(), by_blocks=False)
        assert findings == []
        assert statements == parse_file(source(text)).tree.statements

    def test_line_by_line_with_crlf(self, path: Path) -> None:
        text = path.read_text(encoding="utf-8").replace("\n", "\r\n")
        statements, findings = recover(text, "test.fed", frozenset(), by_blocks=False)
        assert findings == []
        parsed = parse_file(source(text))
        assert parsed.findings == ()
        assert statements == parsed.tree.statements

    def test_every_statement_spans_its_text(self, path: Path) -> None:
        text = path.read_text(encoding="utf-8")
        for statement in parse_file(source(text)).tree.statements:
            shown = text[statement.span.start : statement.span.end]
            assert shown == shown.strip()
            assert text[: statement.span.start].rpartition("\n")[2].strip() == ""
            after = text[statement.span.end :].partition("\n")[0].strip()
            assert after == "" or after.startswith("#")


def test_places() -> None:
    """Spans are half-open ranges of code points and end at the last visible token."""
    text = 'panelboard LP-[n + 1] "Größe [m]"  {\n    1,3 motor "Fan" 5 hp , 60 ft   # end\n}  # x\n'
    (line,) = parse_file(source(text)).tree.statements
    assert isinstance(line, Line)
    assert text[line.span.start : line.span.end].endswith("}")
    _, tag, title = line.runs[0].parts
    assert text[tag.span.start : tag.span.end] == "LP-[n + 1]"
    assert isinstance(title, Text)
    splice = title.segments[1]
    assert not isinstance(splice, str)
    assert text[splice.span.start : splice.span.end] == "[m]"
    assert text[splice.expr.span.start : splice.expr.span.end] == "m"
    assert line.block is not None
    (motor,) = line.block.statements
    assert isinstance(motor, Line)
    assert text[motor.span.start : motor.span.end] == '1,3 motor "Fan" 5 hp , 60 ft'
    assert [text[p.span.start : p.span.end] for p in motor.positions] == ["1", "3"]


def test_an_unknown_name_deep_in_a_text_is_marked_to_the_letter() -> None:
    text = 'a\r\nroom E1 "Floor \\"[leval + 1]\\" of [top]"\r\n'
    line = parse_file(source(text)).tree.statements[1]
    assert isinstance(line, Line)
    title = line.runs[0].parts[2]
    assert isinstance(title, Text)
    spans = [s.expr.span for s in title.segments if not isinstance(s, str)]
    assert [text[span.start : span.end] for span in spans] == ["leval + 1", "top"]


def test_statements_have_their_own_types() -> None:
    text = "fedfrom 1\ntypical F(a) { b }\nuse F(a: 1)\nfor n in 1..2 { b }\n"
    kinds = [type(statement) for statement in parse_file(source(text)).tree.statements]
    assert kinds == [Version, Typical, Use, For]


class TestLimits:
    def test_a_large_file_is_refused_before_it_is_parsed(self) -> None:
        parsed = parse_file(source("# " + "x" * LARGEST_FILE))
        assert [finding.rule for finding in parsed.findings] == ["file-too-large"]
        assert parsed.tree.statements == ()

    def test_size_counts_bytes(self) -> None:
        parsed = parse_file(source("# " + "ö" * (LARGEST_FILE // 2)))
        assert [finding.rule for finding in parsed.findings] == ["file-too-large"]

    @pytest.mark.parametrize(("opening", "closing"), [("a {", "}"), ("a (", ")")])
    def test_nesting(self, opening: str, closing: str) -> None:
        def nested(depth: int) -> str:
            return opening * depth + " b " + closing * depth

        assert parse_file(source(nested(DEEPEST_NESTING))).findings == ()
        parsed = parse_file(source("ok\n" + nested(DEEPEST_NESTING + 1)))
        assert [finding.rule for finding in parsed.findings] == ["nested-too-deep"]

    def test_brackets_in_texts_and_comments_do_not_count(self) -> None:
        assert parse_file(source(f'a "{"{" * 100}" # {"(" * 100}\n')).findings == ()

    def test_a_hundred_thousand_open_blocks(self) -> None:
        parsed = parse_file(source("a {\n" * 100_000))
        assert [finding.rule for finding in parsed.findings] == ["nested-too-deep"]


def test_garbage_collection_is_as_it_was() -> None:
    before = gc.get_threshold()
    parse_file(source("# a comment to make it long\n" * 12_000))
    assert gc.get_threshold() == before


@pytest.mark.parametrize(
    "text",
    [
        "0" * 200_000, '"' * 20_000, "[" * 20_000, "]" * 20_000, "-" * 50_000, " " * 300_000, "a-" * 20_000,
        "[a" * 10_000, ("a" * 90 + "\n") * 200 + "}", "a" + " b" * 4_000 + ";", "a " + "1," * 4_000,
        "\t" * 100_000 + "x;", '"\\' * 30_000, "a } \n" * 1_000, "(" * 30, "a\n  b\n" * 1_000 + "}",
        ("  " * 20 + "x }\n") * 1_000, "a\n b\n  c\n" * 500 + "{",
    ],
    ids=lambda text: repr(text[:12]),
)  # fmt: skip
def test_hostile_texts(text: str) -> None:
    """Long lines and long rows of the same slip: findings, no exception, nothing that takes the square of the size."""
    parsed = parse_file(source(text))
    assert len(parsed.findings) <= text.count("\n") + 2


def test_recovery_is_linear() -> None:
    """Four times the text takes about four times the time (ten allowed for a busy machine)."""
    from time import process_time

    def seconds(count: int) -> float:
        text = "panelboard A {\n" + "    main lugs }\n" * count + "}\n"
        start = process_time()
        parse_file(source(text))
        return process_time() - start

    seconds(10)
    assert seconds(1200) < 10 * max(seconds(300), 0.01)
