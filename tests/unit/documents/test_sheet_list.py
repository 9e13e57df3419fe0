"""Which sheets a change touches: by what stands on them, not by their title blocks."""

from __future__ import annotations

from pathlib import Path

from tests.support.changes import PLANT, changed

from fedfrom.compile import compile_project
from fedfrom.documents.sheet_list import SheetContent, sheet_list


def sheets(folder: Path, text: str) -> dict[str, SheetContent]:
    folder.mkdir()
    (folder / "plant.fed").write_text(text, encoding="utf-8")
    return {sheet.key: sheet for sheet in sheet_list(compile_project(folder / "plant.fed").design())}


def test_only_the_sheets_that_show_the_change_differ(tmp_path: Path) -> None:
    old = sheets(tmp_path / "old", PLANT)
    new = sheets(tmp_path / "new", changed(('"South"     9 outlets', '"South"     3 outlets')))
    assert list(old) == list(new)
    touched = {key for key in old if old[key].fingerprint != new[key].fingerprint}
    assert "schedules/LP1" in touched
    assert "load summary" in {old[key].title.lower() for key in touched}
    assert "schedules/DP1" not in touched
    assert old["schedules/DP1"].title == "DP1 panelboard schedule"
    assert "DP1" in old["schedules/DP1"].tags
    assert "one-line diagram/E-601" in old
    assert any(key.startswith("specification/26 24") for key in old)
