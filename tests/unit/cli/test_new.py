"""`fedfrom new`: every kind compiles clean and is canonical; nothing is overwritten."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from fedfrom.cli.main import cli
from fedfrom.cli.new_command import kinds, project_text
from fedfrom.compile import compile_project
from fedfrom.editing.formatting import format_text
from fedfrom.findings import Severity
from fedfrom.source import SourceFile


def run(*arguments: str) -> Result:
    return CliRunner().invoke(cli, arguments)


def test_the_kinds() -> None:
    assert kinds() == ["house", "office", "plant", "shop"]


@pytest.mark.parametrize("kind", kinds())
def test_a_new_project_compiles_clean(kind: str, tmp_path: Path) -> None:
    place = tmp_path / "my-place"
    done = run("new", str(place), "--kind", kind)
    assert done.exit_code == 0, done.output
    text = (place / "project.fed").read_text(encoding="utf-8")
    assert format_text(SourceFile("project.fed", text)).text == text
    assert text.count("#") >= 10  # it teaches
    compilation = compile_project(place)
    graver = [finding for finding in compilation.findings if finding.severity is not Severity.NOTE]
    assert graver == []
    assert compilation.results is not None
    assert compilation.results.project.title == "My place"
    assert all(expected.met for expected in compilation.results.expectations)


def test_nothing_is_overwritten(tmp_path: Path) -> None:
    (tmp_path / "a").mkdir()
    (tmp_path / "a/project.fed").write_text("fedfrom 1\n", encoding="utf-8")
    (tmp_path / "b").write_text("a file", encoding="utf-8")
    for name in ("a", "b"):
        done = run("new", str(tmp_path / name), "--kind", "shop")
        assert done.exit_code == 2
        assert "exists; nothing is overwritten: choose another name" in done.stderr
    assert (tmp_path / "a/project.fed").read_text(encoding="utf-8") == "fedfrom 1\n"
    assert (tmp_path / "b").read_text(encoding="utf-8") == "a file"


@pytest.mark.parametrize("name", ['a "b" [c]', "back\\slash", "{braces} #1", "TITLE", "x" * 200])
def test_any_name_of_a_folder_is_a_text(name: str, tmp_path: Path) -> None:
    text = project_text("house", tmp_path / name)
    done = format_text(SourceFile("project.fed", text))
    assert done.text == text, done.findings


def test_the_kind_must_be_one(tmp_path: Path) -> None:
    done = run("new", str(tmp_path / "x"), "--kind", "castle")
    assert done.exit_code == 2
    assert "'house', 'office', 'plant', 'shop'" in done.stderr
    assert not (tmp_path / "x").exists()
