"""The same source gives the same bytes: in another folder, under another hash seed, time zone and locale."""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

SPECS = Path(__file__).parents[2] / "specs"


def build(sample: Path, folder: Path, environment: dict[str, str]) -> dict[str, str]:
    """Build a copy of the sample in `folder`; name -> SHA-256 of every file."""
    folder.mkdir()
    copy = folder / sample.name
    if sample.is_dir():
        shutil.copytree(sample, copy)
    else:
        shutil.copy(sample, copy)
    subprocess.run(
        [sys.executable, "-m", "fedfrom", "build", sample.name, "-o", "documents"],
        cwd=folder,
        env={**os.environ, **environment},
        capture_output=True,
        check=False,
    )
    files = sorted(file for file in (folder / "documents").rglob("*") if file.is_file())
    return {file.name: hashlib.sha256(file.read_bytes()).hexdigest() for file in files}


@pytest.mark.slow
@pytest.mark.parametrize("name", ["bottling-works.fed", "corner-shop.fed"])
def test_same_bytes_everywhere(name: str, tmp_path: Path) -> None:
    first = build(SPECS / name, tmp_path / "a", {"PYTHONHASHSEED": "0", "TZ": "UTC", "LC_ALL": "C"})
    other = {"PYTHONHASHSEED": "4711", "TZ": "Asia/Kolkata", "LC_ALL": "de_DE.UTF-8", "LANG": "de_DE.UTF-8"}
    second = build(SPECS / name, tmp_path / "another folder", other)
    endings = {Path(file).suffix for file in first}
    assert {".json", ".pdf", ".svg", ".dxf", ".xlsx", ".docx", ".csv", ".md"} <= endings
    assert first == second
