"""Every command has help with examples, and the examples work as they stand."""

from __future__ import annotations

import re
import shlex
import subprocess
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner

import fedfrom.compile
import fedfrom.documents.registry
from fedfrom.cli.main import COMMANDS, LazyGroup, cli
from fedfrom.cli.new_command import project_text
from fedfrom.compile import Compilation, compile_project

EXAMPLE = re.compile(r"fedfrom (?:[^ \n]+ ?)+")


@cache
def examples(name: str) -> tuple[str, ...]:
    assert isinstance(cli, LazyGroup)
    command = cli.get_command(None, name)  # type: ignore[arg-type]
    assert command is not None
    assert command.epilog
    assert "Examples:" in command.epilog
    found = EXAMPLE.findall(command.epilog.partition("Examples:")[2])
    return tuple(example.strip() for example in found)


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder as the examples speak of it: files, a project in a folder, a git repository with a `main`."""
    folder = tmp_path_factory.mktemp("job")
    plant = project_text("plant", Path("plant"))
    for name in ("plant.fed", "old.fed", "new.fed", "draft.fed"):
        (folder / name).write_text(plant, encoding="utf-8")
    (folder / "office").mkdir()
    (folder / "office/project.fed").write_text(project_text("office", Path("office")), encoding="utf-8")
    for call in ("init -q -b main", "add -A", "-c user.name=A -c user.email=a@invalid commit -q -m first"):
        subprocess.run(["git", *call.split()], cwd=folder, check=True, capture_output=True)
    return folder


@pytest.mark.parametrize("name", COMMANDS)
def test_help_and_its_examples(name: str, place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(place)
    known: dict[str, Compilation] = {}

    def once(path: Path) -> Compilation:
        return known.setdefault(str(path), compile_project(path)) if str(path) not in known else known[str(path)]

    monkeypatch.setattr(fedfrom.compile, "compile_project", once)
    monkeypatch.setattr(fedfrom.documents.registry, "build_all", lambda design, only=(): {"a.txt": b"a"})
    shown = CliRunner().invoke(cli, [name, "--help"])
    assert shown.exit_code == 0
    assert len(examples(name)) >= 2
    for example in examples(name):
        assert example in " ".join(shown.stdout.split()), example
        words = shlex.split(example)[1:]
        words += ["--no-sheets"] if name == "diff" else []  # drawn elsewhere
        given = None
        if "<" in words:
            given = (place / words.pop()).read_text(encoding="utf-8")
            words.pop()
        done = CliRunner().invoke(cli, words, input=given)
        if " on " in example:  # explains one finding, which comes and goes
            assert done.exit_code in (0, 2)
            continue
        assert done.exit_code in (0, 1), f"{example}: {done.output}"


def test_the_list_of_commands_is_whole() -> None:
    listed = CliRunner().invoke(cli, ["--help"]).stdout
    for name in COMMANDS:
        line = next(line for line in listed.splitlines() if line.strip().startswith(f"{name} "))
        assert line.endswith("."), line
        assert not line.endswith("..."), line
    files = {file.name.removesuffix("_command.py") for file in Path(fedfrom.cli.__file__).parent.glob("*_command.py")}
    assert files == set(COMMANDS)
