"""Why documents are not up to date."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from fedfrom.cli.outputs import MANIFEST, Origins, stale_outputs, write_outputs

OLD = {"a.svg": b"old drawing", "b.csv": b"bill"}
NEW = {"a.svg": b"new drawing", "b.csv": b"bill"}
MADE = Origins("0.1.0", {"plant.fed": "1", "part.fed": "2"})


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    write_outputs(tmp_path / "issued", OLD, MADE)
    return tmp_path / "issued"


def test_what_was_just_built_is_fresh(folder: Path) -> None:
    assert stale_outputs(folder, OLD, MADE) == []


@pytest.mark.parametrize(
    ("now", "why"),
    [
        (Origins("0.1.0", {"plant.fed": "9", "part.fed": "2"}), "plant.fed changed since"),
        (Origins("0.1.0", {"plant.fed": "1"}), "part.fed is gone"),
        (Origins("0.1.0", {**MADE.sources, "more.fed": "3"}), "more.fed is new"),
        (Origins("0.2.0", MADE.sources), "built by fedfrom 0.1.0, this is 0.2.0"),
        (Origins("0.2.0", {"plant.fed": "9", "part.fed": "2"}),
         "plant.fed changed since; built by fedfrom 0.1.0, this is 0.2.0"),
        (MADE, "differs from what the source gives now"),
    ],
)  # fmt: skip
def test_the_reason_names_what_changed(folder: Path, now: Origins, why: str) -> None:
    assert stale_outputs(folder, NEW, now) == [("a.svg", why)]


def test_a_file_edited_by_hand_is_named_as_such(folder: Path) -> None:
    (folder / "b.csv").write_bytes(b"bill, with my prices")
    assert stale_outputs(folder, OLD, MADE) == [("b.csv", "edited since it was built")]


def test_missing_taken_away_and_no_longer_an_output(folder: Path) -> None:
    (folder / "a.svg").unlink()
    assert stale_outputs(folder, {"a.svg": b"old drawing", "c.pdf": b"page"}, MADE) == [
        ("a.svg", "taken away since it was built"),
        ("b.csv", "no longer an output"),
        ("c.pdf", "missing"),
    ]


@pytest.mark.parametrize("broken", ["<<<<<<< ours\n{}\n", "[]", '{"files": 3}', ""])
def test_a_manifest_that_cannot_be_read_hides_nothing(folder: Path, broken: str) -> None:
    (folder / MANIFEST).write_text(broken)
    assert stale_outputs(folder, NEW, MADE) == [("a.svg", "differs from what the source gives now")]


def test_a_manifest_of_before_still_tells_its_files(folder: Path) -> None:
    manifest = json.loads((folder / MANIFEST).read_text())
    (folder / MANIFEST).write_text(json.dumps({"version": 1, "files": manifest["files"]}))
    assert stale_outputs(folder, {"a.svg": b"old drawing"}, MADE) == [("b.csv", "no longer an output")]
