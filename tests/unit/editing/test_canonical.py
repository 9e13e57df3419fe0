"""Every program in the samples, the documents, the rules and the tests stands in the canonical layout.

`pytest --accept` lays them out.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.support import programs

from fedfrom.editing.formatting import format_text
from fedfrom.source import SourceFile


def canonical(text: str) -> str:
    """The canonical form; a text that cannot be read (there are such on purpose) as it is."""
    return format_text(SourceFile("program.fed", text)).text or text


def offenders(files: list[Path], accept: bool) -> list[str]:
    """The files with a program in another layout, laid out on the way if asked for."""
    if accept:
        for file in files:
            programs.rewrite(file, canonical)
    found = []
    for file in files:
        if any(canonical(program) != program for program in programs.programs_in(file)):
            found.append(file.relative_to(programs.ROOT).as_posix())
    return found


@pytest.mark.parametrize("where", ["whole_files", "pages", "rule_files"])
def test_programs_are_canonical(where: str, accept: bool) -> None:
    files = getattr(programs, where)()
    held = [program for file in files for program in programs.programs_in(file)]
    assert len(held) > {"whole_files": 10, "pages": 60, "rule_files": 150}[where]
    assert offenders(files, accept) == []
