"""The same source gives the same bytes: in another folder, under another hash seed, time zone and locale.

The golden files were written in this environment; here the installed command writes them again in another one.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from tests.support.goldens import DIGESTS, SPECS, as_kept, comparable, kept

ELSEWHERE = {"PYTHONHASHSEED": "4711", "TZ": "Asia/Kolkata", "LC_ALL": "de_DE.UTF-8", "LANG": "de_DE.UTF-8"}


@pytest.mark.slow
def test_same_bytes_everywhere(tmp_path: Path) -> None:
    name = "corner-shop.fed"
    shutil.copy(SPECS / name, tmp_path / name)
    subprocess.run(
        [sys.executable, "-m", "fedfrom", "build", name, "-o", "documents"],
        cwd=tmp_path,
        env={**os.environ, **ELSEWHERE},
        capture_output=True,
        check=True,
    )
    folder = tmp_path / "documents"
    files = {file.relative_to(folder).as_posix(): file for file in folder.rglob("*") if file.is_file()}
    manifest = files.pop("outputs.json")
    assert manifest.stat().st_size
    found = as_kept({name: file.read_bytes() for name, file in files.items()})
    golden = kept(SPECS / name)
    del golden["findings.txt"]
    assert {Path(file).suffix for file in files} >= {".json", ".pdf", ".svg", ".dxf", ".xlsx", ".docx", ".csv", ".md"}
    if not comparable(golden[DIGESTS]):
        del golden[DIGESTS], found[DIGESTS]
    assert found == golden
