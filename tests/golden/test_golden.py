"""Every output of every sample, compared with what was reviewed by eye.

`pytest tests/golden --accept` rewrites them; look at what changed before you commit it.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.support.goldens import DIGESTS, GOLDEN, as_kept, comparable, kept, samples

from fedfrom.compile import compile_project
from fedfrom.documents.registry import all_outputs, build_all
from fedfrom.findings.render import render_findings

# A calculation a page, and all of it once more as a book: of the large sample a third of the time of all golden files.
NOT_OF = {"office-tower": {"book", "calculations"}}


@pytest.mark.parametrize("sample", samples(), ids=lambda path: path.stem)
def test_outputs_are_as_reviewed(sample: Path, accept: bool) -> None:
    compilation = compile_project(sample)
    outputs = [each.name for each in all_outputs() if each.name not in NOT_OF.get(sample.stem, set())]
    found = as_kept(build_all(compilation.design(), outputs))
    found["findings.txt"] = render_findings("text", compilation.findings, compilation.files)
    if accept:
        _write(GOLDEN / sample.stem, found)
        return
    stored = kept(sample)
    assert sorted(found) == sorted(stored)
    for name in sorted(found):
        if name != DIGESTS or comparable(stored[name]):
            assert found[name] == stored[name], f"{sample.stem}/{name} changed; look at it, then run with --accept"


def _write(folder: Path, files: dict[str, str]) -> None:
    for old in folder.rglob("*"):
        if old.is_file():
            old.unlink()
    for name, text in files.items():
        file = folder / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8", newline="")
