"""Writing a set of documents: everything aside first, then moved into place; what cannot be moved puts all back."""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import shutil
import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from fedfrom import __version__
from fedfrom.source import SourceFile

MANIFEST = "outputs.json"
STAGE = ".fedfrom-"  # how the folder is called in which files wait to be moved into place


class OutputError(Exception):
    """The folder cannot be written; the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class Origins:
    """What documents were made from: the version of the program, and every source file with its SHA-256."""

    tool: str = ""
    sources: Mapping[str, str] = field(default_factory=dict)

    @staticmethod
    def of(files: Mapping[str, SourceFile]) -> Origins:
        """The origins of documents that are built now from these texts."""
        return Origins(
            __version__, {name: digest(files[name].text.encode("utf-8", "surrogatepass")) for name in sorted(files)}
        )


def digest(data: bytes) -> str:
    """SHA-256 in hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()


def manifest_bytes(documents: Mapping[str, bytes], origins: Origins) -> bytes:
    """The list of files with their SHA-256, by which the next build knows what is its own, and what they came from."""
    files = {name: digest(documents[name]) for name in sorted(documents)}
    made = {"version": 1, "fedfrom": origins.tool, "sources": dict(origins.sources), "files": files}
    return (json.dumps(made, indent=2, ensure_ascii=False) + "\n").encode()


def write_outputs(folder: Path, documents: Mapping[str, bytes], origins: Origins, *, keep_others: bool = False) -> None:
    """Make `folder` hold `documents` (name with "/" -> bytes).

    The files of the last build that are not written again are removed (not with `keep_others`). What no build wrote is
    neither touched nor overwritten, so that the folder may be the one where the sources are. Raises OutputError, and
    then the folder is as it was.
    """
    if folder.exists() and not folder.is_dir():
        raise OutputError(f"{folder.as_posix()} is a file; name a folder with --output")
    _refuse_foreign(folder, documents)
    made = [each for each in (folder, *folder.parents) if not each.exists()]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        stage = Path(tempfile.mkdtemp(prefix=STAGE, dir=folder))
    except OSError as error:
        _remove_empty(made)
        raise OutputError(f"{folder.as_posix()} cannot be written ({error.strerror}); name another folder") from error
    try:
        names = _stage(stage / "new", folder, documents, origins, keep_others)
        gone = set() if keep_others else _own_files(folder) - set(names)
        _install(stage, folder, names, sorted(gone))
    except OSError as error:
        raise OutputError(
            f"{folder.as_posix()} could not be written ({error.strerror}); nothing was changed"
        ) from error
    finally:
        shutil.rmtree(stage, ignore_errors=True)
        _remove_empty(made)


def stale_outputs(
    folder: Path, documents: Mapping[str, bytes], origins: Origins, *, partly: bool = False
) -> list[tuple[str, str]]:
    """The names that differ from `documents`, with the reason, sorted."""
    manifest = _manifest(folder)
    since = _changed_since(manifest, origins)
    stale = []
    for name in sorted(documents):
        file = folder / name
        if not file.is_file():
            stale.append((name, "missing" if name not in manifest.files else "taken away since it was built"))
        elif (found := file.read_bytes()) != documents[name]:
            by_hand = name in manifest.files and digest(found) != manifest.files[name]
            fresh = manifest.files.get(name) == digest(documents[name])
            reasons = [*(["edited since it was built"] if by_hand else []), *([] if fresh else since)]
            stale.append((name, "; ".join(reasons) or "differs from what the source gives now"))
    if not partly:
        stale += [(name, "no longer an output") for name in sorted(manifest.files.keys() - documents.keys())]
    return sorted(stale)


def _changed_since(manifest: _Manifest, origins: Origins) -> list[str]:
    """What the documents rest on that is not as it was when they were built."""
    was, now = manifest.origins.sources, origins.sources
    reasons = []
    if was:
        reasons += [f"{name} changed since" for name in now if name in was and was[name] != now[name]]
        reasons += [f"{name} is new" for name in now if name not in was]
        reasons += [f"{name} is gone" for name in was if name not in now]
    if manifest.origins.tool and manifest.origins.tool != origins.tool:
        reasons.append(f"built by fedfrom {manifest.origins.tool}, this is {origins.tool}")
    return reasons


@dataclass(frozen=True, slots=True)
class _Manifest:
    """What the last build wrote down: its files with their digests, and what they came from."""

    files: Mapping[str, str] = field(default_factory=dict)
    origins: Origins = Origins()


def _manifest(folder: Path) -> _Manifest:
    """The manifest of a folder; empty where there is none, or none that can be read (as after a merge conflict)."""
    try:
        made = json.loads((folder / MANIFEST).read_text(encoding="utf-8"))
        files = {str(name): str(value) for name, value in made["files"].items()}
        sources = {str(name): str(value) for name, value in made.get("sources", {}).items()}
        return _Manifest(files, Origins(str(made.get("fedfrom", "")), sources))
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return _Manifest()


def _own_files(folder: Path) -> set[str]:
    """The files of the last build; a name that leads out of the folder is nobody's, whatever the manifest says."""
    return {name for name in _manifest(folder).files if ".." not in Path(name).parts and not Path(name).is_absolute()}


def _refuse_foreign(folder: Path, documents: Mapping[str, bytes]) -> None:
    """Where no build ever wrote, a file of the same name is the engineer's own."""
    if (folder / MANIFEST).exists():
        return
    for name in sorted(documents):
        file = folder / name
        if file.exists() and not (file.is_file() and file.read_bytes() == documents[name]):
            raise OutputError(f"{file.as_posix()} exists, and no build wrote it; name another folder, or move it away")


def _stage(stage: Path, folder: Path, documents: Mapping[str, bytes], origins: Origins, keep_others: bool) -> list[str]:
    """Writes the documents and their manifest aside; their names, the manifest last."""
    for name, data in documents.items():
        _put(stage / name, data)
    kept = {
        name: (folder / name).read_bytes()
        for name in (_own_files(folder) if keep_others else ())
        if name not in documents and (folder / name).is_file()
    }
    _put(stage / MANIFEST, manifest_bytes({**kept, **documents}, origins))
    return [*sorted(documents), MANIFEST]


def _put(file: Path, data: bytes) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(data)


def _install(stage: Path, folder: Path, names: Sequence[str], gone: Sequence[str]) -> None:
    """Moves what is staged into place, and the files before it aside; puts everything back where one cannot be."""
    aside: list[str] = []
    placed: list[str] = []
    made: list[Path] = []
    try:
        for name in [*names, *gone]:
            if (folder / name).exists() or (folder / name).is_symlink():
                (stage / "old" / name).parent.mkdir(parents=True, exist_ok=True)
                os.replace(folder / name, stage / "old" / name)
                aside.append(name)
        for name in names:
            target = folder / name
            made += [each for each in target.parents if not each.exists()]
            target.parent.mkdir(parents=True, exist_ok=True)
            os.replace(stage / "new" / name, target)
            placed.append(name)
    except OSError:
        for name in placed:
            (folder / name).unlink()
        for name in aside:
            os.replace(stage / "old" / name, folder / name)
        _remove_empty(made)
        raise
    for name in gone:
        _remove_empty(list((folder / name).parents)[: len(Path(name).parts) - 1])


def _remove_empty(folders: Sequence[Path]) -> None:
    """Removes those of the folders, inner ones first, that hold nothing."""
    for each in folders:
        with contextlib.suppress(OSError):
            each.rmdir()
