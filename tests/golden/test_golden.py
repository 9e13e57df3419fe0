"""Every output of every sample, compared with what was reviewed by eye.

Text outputs are stored whole (an SVG without its embedded fonts); of binary ones the SHA-256 in `binaries.txt`.
`pytest tests/golden --accept` rewrites them; look at what changed before you commit it.
"""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

import pytest

from fedfrom.compile import compile_project
from fedfrom.documents.registry import build_all
from fedfrom.findings.render import render_findings

SPECS = Path(__file__).parents[2] / "specs"
HERE = Path(__file__).parent
TEXT = (".json", ".csv", ".md", ".svg", ".txt")
FONT = re.compile(r"url\(data:font/woff2;base64,[^)]*\)")


def samples() -> list[Path]:
    return sorted([*SPECS.glob("*.fed"), *(folder.parent for folder in SPECS.glob("*/project.fed"))])


def as_text(name: str, data: bytes) -> str:
    text = data.decode("utf-8")
    return FONT.sub("url(…)", text) if name.endswith(".svg") else text


@pytest.mark.parametrize("sample", samples(), ids=lambda path: path.stem)
def test_outputs_are_as_reviewed(sample: Path, accept: bool) -> None:
    compilation = compile_project(sample)
    documents = build_all(compilation.design())
    found = {name: as_text(name, data) for name, data in documents.items() if name.endswith(TEXT)}
    found["findings.txt"] = render_findings("text", compilation.findings, compilation.files)
    found["binaries.txt"] = "".join(
        f"{hashlib.sha256(data).hexdigest()}  {name}\n"
        for name, data in sorted(documents.items())
        if not name.endswith(TEXT)
    )
    folder = HERE / sample.stem
    if accept:
        for old in folder.rglob("*"):
            if old.is_file():
                old.unlink()
        for name, text in found.items():
            file = folder / name
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(text, encoding="utf-8", newline="")
        return
    stored = {
        file.relative_to(folder).as_posix(): file.read_bytes().decode("utf-8")
        for file in folder.rglob("*")
        if file.is_file()
    }
    assert sorted(found) == sorted(stored)
    for name in sorted(found):
        assert found[name] == stored[name], f"{sample.stem}/{name} changed; look at it, then run with --accept"
