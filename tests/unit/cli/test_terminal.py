"""What a terminal gets that a file does not: colour, progress, completion."""

from __future__ import annotations

import io
import time
from pathlib import Path

import pytest
from click.testing import CliRunner

from fedfrom.cli.complete import tags_of_project
from fedfrom.cli.main import cli, main, use_color
from fedfrom.cli.pin_command import command as pin
from fedfrom.cli.progress import working


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


# --- progress --------------------------------------------------------------------------------------------------------


def test_progress_is_told_after_a_while_and_wiped(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "xterm")
    stream = Terminal()
    with working("computing", stream, after_s=0.01, every_s=0.01):
        time.sleep(0.08)
    said = stream.getvalue()
    assert said.startswith("\rcomputing, 0 s")
    assert said.endswith("\r" + " " * len("computing, 0 s") + "\r")


def test_short_work_and_files_hear_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "xterm")
    terminal, file = Terminal(), io.StringIO()
    with working("computing", terminal):
        pass
    with working("computing", file, after_s=0.001, every_s=0.001):
        time.sleep(0.02)
    assert terminal.getvalue() == file.getvalue() == ""
    monkeypatch.setenv("TERM", "dumb")
    with working("computing", terminal, after_s=0.001, every_s=0.001):
        time.sleep(0.02)
    assert terminal.getvalue() == ""


def test_progress_is_wiped_when_the_work_fails(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "xterm")
    stream = Terminal()
    progress = working("computing", stream, after_s=0.001, every_s=0.01)
    progress.__enter__()
    time.sleep(0.05)
    assert not progress.__exit__(ValueError, ValueError("no"), None)
    assert stream.getvalue().endswith("\r")


# --- colour ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("choice", "environment", "terminal", "colored"),
    [
        ("auto", {}, True, True),
        ("auto", {}, False, False),
        ("auto", {"NO_COLOR": "1"}, True, False),
        ("auto", {"NO_COLOR": ""}, True, True),
        ("auto", {"FORCE_COLOR": "1"}, False, True),
        ("auto", {"FORCE_COLOR": "1", "NO_COLOR": "1"}, True, False),
        ("always", {"NO_COLOR": "1"}, False, True),
        ("never", {"FORCE_COLOR": "1"}, True, False),
    ],
)
def test_colour(
    choice: str, environment: dict[str, str], terminal: bool, colored: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("NO_COLOR", "FORCE_COLOR"):
        monkeypatch.delenv(name, raising=False)
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    assert use_color(choice, Terminal() if terminal else io.StringIO()) is colored


@pytest.mark.parametrize(("variable", "colored"), [("NO_COLOR", False), ("FORCE_COLOR", True)])
def test_colour_of_a_command(variable: str, colored: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("NO_COLOR", "FORCE_COLOR"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv(variable, "1")
    (tmp_path / "a.fed").write_text("panelboard A {\nbus 225A\n}\n", encoding="utf-8")
    done = CliRunner().invoke(cli, ["fmt", "--diff", str(tmp_path / "a.fed")], color=True)
    assert ("\x1b[32m" in done.stdout) is colored


# --- completion ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("shell", "words"), [("bash", "complete -o"), ("zsh", "#compdef fedfrom"), ("fish", "complete")]
)
def test_the_script_of_a_shell(shell: str, words: str) -> None:
    done = CliRunner().invoke(cli, ["completion", shell])
    assert done.exit_code == 0
    assert words in done.stdout
    assert "_FEDFROM_COMPLETE" in done.stdout


def completed(words: str) -> list[str]:
    environment = {"_FEDFROM_COMPLETE": "bash_complete", "COMP_WORDS": words, "COMP_CWORD": str(words.count(" "))}
    done = CliRunner().invoke(cli, prog_name="fedfrom", env=environment)
    return [line.partition(",")[2] for line in done.stdout.splitlines()]


def test_commands_options_and_tags_complete(tmp_path: Path) -> None:
    assert completed("fedfrom pi") == ["pin"]
    assert "--dry-run" in completed("fedfrom pin --d")
    file = tmp_path / "a.fed"
    file.write_text("utility UT { }\npanelboard LP1 { }\npanelboard LP2 { }\n", encoding="utf-8")
    assert completed(f"fedfrom pin {file.as_posix()} LP") == ["LP1", "LP2"]


def test_no_project_no_tags(tmp_path: Path) -> None:
    context = pin.make_context("pin", [str(tmp_path / "none.fed"), "x"], resilient_parsing=True)
    assert tags_of_project(context, pin.params[1], "") == []


# --- an output that cannot be written --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (OSError(28, "No space left on device"), "refuses to read or write: No space left on device"),
        (FileNotFoundError(2, "No such file or directory", "job"), "read or write (job): No such file or directory"),
    ],
)
def test_what_the_system_refuses_is_told_in_a_sentence(
    error: OSError, said: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def refuse(**_: object) -> None:
        raise error

    monkeypatch.setattr("fedfrom.cli.main.cli", refuse)
    with pytest.raises(SystemExit) as ended:
        main()
    assert ended.value.code == 2
    assert said in capsys.readouterr().err


def test_a_stream_that_is_closed_takes_no_colour() -> None:
    assert not use_color("auto", None)
