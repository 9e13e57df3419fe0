"""Places as the caller sees them, and the project that a file belongs to."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from fedfrom.cli.places import folder_from_here, from_here, projects_of
from fedfrom.findings import Finding, Label, Severity
from fedfrom.source import SourceFile, Span


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


def test_names_get_the_folder_of_the_project(here: Path) -> None:
    write(here / "specs/tower/project.fed", "fedfrom 1\n")
    place = Span("floors.fed", 0, 3)
    finding = Finding("rule", Severity.ERROR, "X", "message", place, related=(Label(place, "here"),))
    (moved,), files = from_here([finding], {"floors.fed": SourceFile("floors.fed", "abc")}, Path("specs/tower"))
    assert moved.span == Span("specs/tower/floors.fed", 0, 3)
    assert moved.related[0].span == moved.span
    assert list(files) == ["specs/tower/floors.fed"]


def test_the_working_directory_adds_nothing(here: Path) -> None:
    write(here / "plant.fed", "fedfrom 1\n")
    assert folder_from_here(Path("plant.fed")) == ""
    assert folder_from_here(here / "plant.fed") == ""
    assert folder_from_here(Path("../elsewhere/plant.fed")) == "../elsewhere/"


def test_a_file_is_checked_with_its_project(here: Path) -> None:
    write(here / "tower/project.fed", 'fedfrom 1\ninclude "parts/floors.fed"\n')
    write(here / "tower/parts/floors.fed", "panelboard A { }\n")
    write(here / "plant.fed", '# a plant\nfedfrom 1\ninclude "rooms.fed"\n')
    write(here / "rooms.fed", 'room A "A" { }\n')
    write(here / "stray.fed", 'room B "B" { }\n')
    names = ("tower/parts/floors.fed", "tower/project.fed", "plant.fed", "rooms.fed", "stray.fed")
    assert projects_of(Path(name) for name in names) == (Path("tower"), Path("plant.fed"), Path("stray.fed"))


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="the system has no named pipes")
def test_a_pipe_beside_the_file_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "a.fed")
    part = tmp_path / "part.fed"
    part.write_text("room E1 { }\n", encoding="utf-8")
    assert projects_of([part]) == (part,)
