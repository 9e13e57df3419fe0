"""Reading a project: what is read, in which order, and what is refused with which words."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from fedfrom.findings import Severity
from fedfrom.source import SourceFile, Span
from fedfrom.source.folder import MemoryFolder
from fedfrom.syntax import project as project_module
from fedfrom.syntax.project import ProjectText, Wanted, read_from, read_project


def wanted_by(source: SourceFile) -> list[Wanted]:
    """A stand-in for the parser: each line `include PATH` or `table PATH` asks for a file."""
    asked, at = [], 0
    for line in source.text.splitlines(keepends=True):
        word, _, path = line.rstrip("\r\n").partition(" ")
        if word in ("include", "table"):
            asked.append(Wanted(path, Span(source.name, at, at + len(line.rstrip("\r\n"))), word == "table"))
        at += len(line)
    return asked


def project(**texts: str | bytes) -> ProjectText:
    return read_from(MemoryFolder({name.replace("_", "."): text for name, text in texts.items()}), "a.fed", wanted_by)


def files(text: ProjectText) -> list[str]:
    return list(text.files)


def test_files_are_read_depth_first_in_the_order_in_which_they_are_asked_for() -> None:
    texts = {"a.fed": "include sub/b.fed\ninclude c.fed", "sub/b.fed": "table ../d.csv", "c.fed": "x", "d.csv": "h"}
    text = read_from(MemoryFolder(texts), "a.fed", wanted_by)
    assert files(text) == ["a.fed", "sub/b.fed", "d.csv", "c.fed"]
    assert text.tables == {"d.csv"}
    assert text.resolved["sub/b.fed", "../d.csv"] == "d.csv"
    assert text.findings == ()


def test_a_file_asked_for_twice_is_read_once_with_a_note() -> None:
    text = project(a_fed="include b.fed\ninclude b.fed", b_fed="x")
    (note,) = text.findings
    assert (note.rule, note.severity) == ("included-again", Severity.NOTE)
    assert note.span == Span("a.fed", 14, 27)
    assert note.related[0].span == Span("a.fed", 0, 13)


def test_a_circle_of_includes_ends_with_a_note() -> None:
    text = project(a_fed="include b.fed", b_fed="include a.fed")
    (note,) = text.findings
    assert note.rule == "included-again"
    assert note.message == "`a.fed` is the root file; it is read once"


def test_a_table_may_be_used_often() -> None:
    assert project(a_fed="table b.csv\ntable b.csv", b_csv="x").findings == ()


def test_a_file_is_either_a_table_or_language() -> None:
    (finding,) = project(a_fed="include b.csv\ntable b.csv", b_csv="x").findings
    assert finding.rule == "file-path"


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("../b.fed", "leads out of the project folder"),
        ("sub/../../b.fed", "leads out of the project folder"),
        ("/etc/b.fed", "is not relative"),
        ("C:/b.fed", "is not relative"),
        ("~/b.fed", "is not relative"),
        ("sub\\b.fed", "holds a backslash"),
        ("https://example.org/b.fed", "is a web address"),
        ("*.fed", "holds a wildcard"),
        ("b?.fed", "holds a wildcard"),
        ("", "is empty"),
        (".", "leads out"),
    ],
)
def test_paths_that_are_refused(path: str, words: str) -> None:
    text = project(a_fed=f"include {path}\nx")
    (finding,) = text.findings
    assert (finding.rule, finding.severity) == ("file-path", Severity.ERROR)
    assert words in finding.message
    assert files(text) == ["a.fed"]


def test_a_missing_file_names_the_near_one() -> None:
    (finding,) = project(a_fed="include flor.fed", floor_fed="x").findings
    assert finding.rule == "file-missing"
    assert finding.help == "`floor.fed` is close"


def test_names_are_compared_letter_for_letter() -> None:
    (finding,) = project(a_fed="include Floor.fed", floor_fed="x").findings
    assert finding.message == "`Floor.fed` is stored under another spelling"
    assert finding.help == "write it as it is stored: `floor.fed`"


def test_an_included_file_that_is_empty() -> None:
    (finding,) = project(a_fed="include b.fed", b_fed="  \n").findings
    assert (finding.rule, finding.span) == ("file-empty", Span("a.fed", 0, 13))


@pytest.mark.parametrize(
    ("content", "rule", "words"),
    [
        (b"ok\nr\xe9sum\xe9", "file-encoding", "byte 5 (line 2, byte 2 of it) is 0xE9"),
        ("fedfrom 1".encode("utf-16"), "file-encoding", "is UTF-16 text"),
        (b"PK\x03\x04\x00\x00", "file-binary", "byte 5 is zero"),
        (b"#" * 5_000_001, "file-too-large", "larger than 5 MB"),
    ],
)
def test_a_root_file_that_is_not_plain_text(content: bytes, rule: str, words: str) -> None:
    text = project(a_fed=content)
    (finding,) = text.findings
    assert finding.rule == rule
    assert words in finding.message
    assert text.files == {}


def test_five_megabytes_are_read() -> None:
    assert project(a_fed=b"#" * 5_000_000).findings == ()


def test_an_opening_byte_order_mark_is_left_out_and_line_ends_are_kept() -> None:
    text = project(a_fed=b"\xef\xbb\xbfone\r\ntwo\n")
    assert text.files["a.fed"].text == "one\r\ntwo\n"


def test_at_most_so_many_files(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(project_module, "MOST_FILES", 2)
    text = project(a_fed="include b.fed\ninclude c.fed", b_fed="x", c_fed="x")
    (finding,) = text.findings
    assert finding.rule == "file-path"
    assert "more than 2 files" in finding.message


# --- on disk --------------------------------------------------------------------------------------------------------


def write(folder: Path, **texts: str) -> None:
    for name, text in texts.items():
        path = folder / name.replace("__", "/").replace("_", ".")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")


def test_a_folder_means_its_project_file(tmp_path: Path) -> None:
    write(tmp_path, project_fed="include floors__b.fed".replace("__", "/"), floors__b_fed="x")
    text = read_project(tmp_path, wanted_by)
    assert (text.root, files(text), text.findings) == ("project.fed", ["project.fed", "floors/b.fed"], ())


def test_a_file_that_nobody_includes_is_a_warning_only_for_a_folder(tmp_path: Path) -> None:
    write(tmp_path, project_fed="x", sub__b_fed="x", phase2__project_fed="x", phase2__c_fed="x", _git__d_fed="x")
    (tmp_path / ".git").mkdir(exist_ok=True)
    (tmp_path / ".git" / "e.fed").write_text("x", encoding="utf-8")
    (finding,) = (f for f in read_project(tmp_path, wanted_by).findings if f.subject == "sub/b.fed")
    assert (finding.rule, finding.severity) == ("file-not-included", Severity.WARNING)
    subjects = [f.subject for f in read_project(tmp_path, wanted_by).findings]
    assert not any(subject.startswith(("phase2", ".git/e")) for subject in subjects)  # a project of its own; hidden
    assert read_project(tmp_path / "project.fed", wanted_by).findings == ()


def test_a_folder_without_a_project_file_names_what_is_there(tmp_path: Path) -> None:
    write(tmp_path, plant_fed="x")
    (finding,) = read_project(tmp_path, wanted_by).findings
    assert finding.rule == "project-file-missing"
    assert "plant.fed" in finding.help


def test_a_missing_path_names_the_near_one(tmp_path: Path) -> None:
    write(tmp_path, plant_fed="x")
    (finding,) = read_project(tmp_path / "plnat.fed", wanted_by).findings
    assert finding.rule == "file-missing"
    assert "plant.fed` is close" in finding.help


def test_an_empty_root_file(tmp_path: Path) -> None:
    write(tmp_path, project_fed="")
    (finding,) = read_project(tmp_path, wanted_by).findings
    assert finding.rule == "file-empty"


@pytest.mark.skipif(os.name == "nt", reason="links need rights there")
def test_a_link_may_not_lead_out_of_the_folder(tmp_path: Path) -> None:
    inside = tmp_path / "job"
    write(inside, project_fed="include b.fed\ninclude c.fed", real_fed="x")
    (tmp_path / "secret.fed").write_text("x", encoding="utf-8")
    (inside / "b.fed").symlink_to(tmp_path / "secret.fed")
    (inside / "c.fed").symlink_to(inside / "real.fed")
    text = read_project(inside / "project.fed", wanted_by)
    (finding,) = text.findings
    assert finding.message == "`b.fed` lies outside the project folder"
    assert files(text) == ["project.fed", "c.fed"]


@pytest.mark.skipif(os.name == "nt", reason="links need rights there")
def test_one_file_under_two_names_is_read_once(tmp_path: Path) -> None:
    write(tmp_path, project_fed="include b.fed\ninclude c.fed", b_fed="x")
    (tmp_path / "c.fed").symlink_to(tmp_path / "b.fed")
    text = read_project(tmp_path / "project.fed", wanted_by)
    assert [f.rule for f in text.findings] == ["included-again"]


@pytest.mark.skipif(os.name == "nt", reason="no such files there")
def test_what_is_no_plain_file_is_not_opened(tmp_path: Path) -> None:
    write(tmp_path, project_fed="include pipe.fed\ninclude sub\ninclude loop.fed", sub__x_txt="x")
    os.mkfifo(tmp_path / "pipe.fed")
    (tmp_path / "loop.fed").symlink_to(tmp_path / "loop.fed")
    rules = [f.rule for f in read_project(tmp_path / "project.fed", wanted_by).findings]
    assert rules == ["file-unreadable", "file-path", "file-unreadable"]


def test_a_path_that_the_system_refuses() -> None:
    for path in ("a\0b.fed", "x" * 5000 + ".fed"):
        (finding,) = read_project(Path(path), wanted_by).findings
        assert finding.severity is Severity.ERROR
