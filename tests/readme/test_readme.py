"""The README keeps its word: its example, the drawing, the review and the recipes are what the program gives now.

`pytest --accept` rewrites the drawing and the review; look at them before you commit.
"""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest
from tests.support.changes import side

from fedfrom.changes.compare import compare
from fedfrom.changes.render import render_difference
from fedfrom.cli.main import COMMANDS
from fedfrom.documents.registry import all_outputs
from fedfrom.drawing.one_line import one_line
from fedfrom.drawing.scene import Group, Sheet
from fedfrom.drawing.shapes import bounds, union
from fedfrom.drawing.svg import write_svg
from fedfrom.editing.formatting import format_text
from fedfrom.findings import Severity
from fedfrom.graph.states import plan_states
from fedfrom.source import SourceFile

ROOT = Path(__file__).parents[2]
README = ROOT / "README.md"
DRAWING = Path(__file__).with_name("one-line.svg")
REVIEW = re.compile(r"(?<=<!-- review -->\n```\n).*?(?=```\n)", re.DOTALL)
MARGIN = 0.15


@cache
def readme() -> str:
    return README.read_text(encoding="utf-8")


def example() -> str:
    found = re.search(r"```fed\n(.*?)```", readme(), re.DOTALL)
    assert found is not None
    return found.group(1)


def test_the_example_is_canonical_short_and_without_errors() -> None:
    text = example()
    assert format_text(SourceFile("plant.fed", text)).text == text
    assert len(text.splitlines()) <= 34
    assert [f.message for f in side(text).results.findings if f.severity >= Severity.WARNING] == []


def test_the_drawing_is_that_of_the_example(accept: bool) -> None:
    """The equipment alone, without border and title strip, which would leave it too small to read."""
    made = side(example())
    (sheet,) = one_line(made.results, made.network, plan_states(made.model, made.network)[0]).sheets
    body = tuple(shape for shape in sheet.shapes if isinstance(shape, Group) and shape.kind == "piece")
    left, top, right, bottom = union(bounds(shape) for shape in body)
    moved = Group((MARGIN - left, MARGIN - top), body)
    size = (right - left + 2 * MARGIN, bottom - top + 2 * MARGIN)
    drawn = write_svg(Sheet(sheet.number, sheet.title, *size, (moved,)))
    if accept:
        DRAWING.write_bytes(drawn)
    assert DRAWING.read_bytes() == drawn, "the drawing in the README changed; look at it, then run with --accept"
    assert f"]({DRAWING.relative_to(ROOT).as_posix()})" in readme()


def test_the_review_is_what_diff_prints(accept: bool) -> None:
    text = example()
    assert text.count("25 hp") == 1
    printed = render_difference("text", compare(side(text), side(text.replace("25 hp", "40 hp"))))
    shown = _excerpt(printed)
    if accept:
        README.write_text(REVIEW.sub(lambda _: shown, readme()), encoding="utf-8", newline="")
        readme.cache_clear()
    found = REVIEW.search(readme())
    assert found is not None
    assert found.group(0) == shown


def _excerpt(printed: str) -> str:
    """The summary, what was written, and the first of the conductors."""
    parts = printed.split("\n\n")
    written = next(part for part in parts if part.startswith("Written differently"))
    conductors = next(part for part in parts if part.startswith("Conductors"))
    first = re.match(r"Conductors\n  \S.*?(?=\n  \S|$)", conductors, re.DOTALL)
    assert first is not None
    return f"{parts[0].splitlines()[1]}\n\n{written}\n\n{first.group(0)}\n"


@pytest.mark.parametrize("name", ["ci.sh", "workflow.yml", "pre-commit-config.yaml", "gitattributes"])
def test_the_recipes_are_those_that_the_tests_run(name: str) -> None:
    assert (ROOT / "templates" / "ci" / name).read_text(encoding="utf-8").strip() in readme()


def test_every_command_is_listed() -> None:
    listed = re.findall(r"^\| `fedfrom (\w+)", readme(), re.MULTILINE)
    assert sorted(listed) == sorted(COMMANDS)


def test_every_kind_of_file_that_is_promised_is_written() -> None:
    written = {name.rpartition(".")[2].upper() for output in all_outputs() for name in output.files}
    assert {"SVG", "PDF", "DXF", "XLSX", "DOCX", "CSV", "MD", "HTML", "JSON"} <= written


@pytest.mark.parametrize("target", sorted(set(re.findall(r"\]\(([^)#:]+)\)", README.read_text(encoding="utf-8")))))
def test_no_link_is_broken(target: str) -> None:
    assert (ROOT / target).exists()
