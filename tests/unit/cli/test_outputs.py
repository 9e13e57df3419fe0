"""Why documents are not up to date."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from fedfrom.cli.outputs import MANIFEST, Origins, OutputError, stale_outputs, write_outputs

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


def test_what_no_build_wrote_is_not_touched(tmp_path: Path) -> None:
    """The folder may be the one of the sources: links, rights, empty folders and the folder itself stay."""
    (tmp_path / "plant.fed").write_text("fedfrom 1\n")
    script, link, empty = tmp_path / "ci.sh", tmp_path / "latest", tmp_path / "photos"
    script.write_text("exit 0\n")
    script.chmod(0o755)
    link.symlink_to("nowhere")
    empty.mkdir()
    before = tmp_path.stat().st_ino
    write_outputs(tmp_path, {"a.svg": b"drawing", "schedules/b.csv": b"bill"}, MADE)
    write_outputs(tmp_path, {"a.svg": b"new drawing"}, MADE)
    assert tmp_path.stat().st_ino == before
    assert script.stat().st_mode & 0o777 == 0o755
    assert link.is_symlink()
    assert sorted(each.name for each in tmp_path.iterdir()) == [
        "a.svg", "ci.sh", "latest", MANIFEST, "photos", "plant.fed",
    ]  # fmt: skip
    assert (tmp_path / "a.svg").read_bytes() == b"new drawing"


def test_a_file_of_the_engineer_is_not_overwritten(tmp_path: Path) -> None:
    (tmp_path / "b.csv").write_bytes(b"my prices")
    with pytest.raises(OutputError, match=r"b\.csv exists, and no build wrote it"):
        write_outputs(tmp_path, OLD, MADE)
    assert [each.name for each in tmp_path.iterdir()] == ["b.csv"]


def test_where_one_file_cannot_be_placed_all_is_as_before(folder: Path) -> None:
    (folder / "c").write_bytes(b"a file of the engineer where a folder should be")
    before = {each.name: each.read_bytes() for each in folder.iterdir()}
    with pytest.raises(OutputError, match="nothing was changed"):
        write_outputs(folder, {"a.svg": b"new drawing", "c/d.csv": b"new"}, MADE)
    assert {each.name: each.read_bytes() for each in folder.iterdir()} == before


def test_a_manifest_cannot_name_files_elsewhere(folder: Path) -> None:
    other = folder.parent / "plant.fed"
    other.write_text("fedfrom 1\n")
    (folder / MANIFEST).write_text(json.dumps({"files": {"../plant.fed": "0", str(other): "0", "b.csv": "0"}}))
    write_outputs(folder, {"a.svg": b"new drawing"}, MADE)
    assert other.read_text() == "fedfrom 1\n"
    assert not (folder / "b.csv").exists()


def test_part_of_the_documents_leaves_the_others(folder: Path) -> None:
    write_outputs(folder, {"a.svg": b"new drawing"}, MADE, keep_others=True)
    assert (folder / "b.csv").read_bytes() == b"bill"
    assert stale_outputs(folder, NEW, MADE) == []
