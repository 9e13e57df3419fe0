"""Runs the installed command on the scripts beside this file.

A script is text: first the calls, then the files and what is expected.

    $ fedfrom check plant.fed        a call; `exit N` on the next line (0 if left out)
    -- plant.fed --                  a file of the scratch folder
    -- stdout 1 --                   what call 1 prints (also `stderr 1`); a part not given is not compared
    -- files out/plant --            the names in a folder afterwards, sorted

`pytest --accept` rewrites what is expected.
"""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
import sys
from dataclasses import dataclass, field
from pathlib import Path

import pytest

HERE = Path(__file__).parent
HEAD = re.compile(r"^-- (.+) --$", re.MULTILINE)


@dataclass
class Script:
    comment: list[str] = field(default_factory=list)
    calls: list[tuple[str, int]] = field(default_factory=list)
    sections: dict[str, str] = field(default_factory=dict)

    @staticmethod
    def read(text: str) -> Script:
        script = Script()
        parts = HEAD.split(text)
        for line in parts[0].splitlines():
            if line.startswith("$ "):
                script.calls.append((line[2:], 0))
            elif line.startswith("exit "):
                script.calls[-1] = (script.calls[-1][0], int(line[5:]))
            else:
                script.comment.append(line)
        script.sections = {name: body.removeprefix("\n") for name, body in zip(parts[1::2], parts[2::2], strict=True)}
        return script

    def write(self) -> str:
        lines = [line for line in self.comment if line]
        for call, code in self.calls:
            lines += [f"$ {call}", *([f"exit {code}"] if code else [])]
        text = "\n".join(lines) + "\n"
        return text + "".join(f"-- {name} --\n{body}" for name, body in self.sections.items())


def command() -> str:
    beside = Path(sys.executable).with_name("fedfrom")
    found = str(beside) if beside.exists() else shutil.which("fedfrom")
    assert found, "the command `fedfrom` is not installed"
    return found


def is_expectation(name: str) -> bool:
    return bool(re.match(r"(stdout|stderr) \d+$|files ", name))


@pytest.mark.parametrize("path", sorted(HERE.glob("*.txtar")), ids=lambda path: path.stem)
def test_script(path: Path, tmp_path: Path, accept: bool) -> None:
    script = Script.read(path.read_text(encoding="utf-8"))
    for name, body in script.sections.items():
        if not is_expectation(name):
            file = tmp_path / name
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(body, encoding="utf-8", newline="")
    found: dict[str, str] = {}
    codes = []
    for number, (call, _) in enumerate(script.calls, 1):
        words = shlex.split(call)
        assert words[0] == "fedfrom"
        done = subprocess.run(
            [command(), *words[1:]], cwd=tmp_path, capture_output=True, text=True, check=False, encoding="utf-8"
        )
        assert "Traceback" not in done.stderr, done.stderr
        found[f"stdout {number}"] = done.stdout
        found[f"stderr {number}"] = done.stderr
        codes.append(done.returncode)
    for name in script.sections:
        if name.startswith("files "):
            folder = tmp_path / name.removeprefix("files ")
            names = sorted(f.relative_to(folder).as_posix() for f in folder.rglob("*") if f.is_file())
            found[name] = "".join(n + "\n" for n in names)
    expected = {name: body for name, body in script.sections.items() if is_expectation(name)}
    if accept:
        script.sections.update({name: found[name] for name in expected})
        script.calls = [(call, code) for (call, _), code in zip(script.calls, codes, strict=True)]
        path.write_text(script.write(), encoding="utf-8", newline="")
        return
    assert codes == [code for _, code in script.calls], found
    assert {name: found[name] for name in expected} == expected
