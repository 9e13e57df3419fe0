"""Writing a set of documents: everything aside first, then moved into place in whole."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path

MANIFEST = "outputs.json"


class OutputError(Exception):
    """The folder cannot be written; the message says why and what to do."""


def manifest_bytes(documents: Mapping[str, bytes]) -> bytes:
    """The list of files with their SHA-256, by which the next build knows what is its own."""
    digests = {name: hashlib.sha256(documents[name]).hexdigest() for name in sorted(documents)}
    return (json.dumps({"version": 1, "files": digests}, indent=2) + "\n").encode()


def write_outputs(folder: Path, documents: Mapping[str, bytes], *, keep_others: bool = False) -> None:
    """Make `folder` hold `documents` (name with "/" -> bytes).

    The files of the last build that are not written again are removed (not with `keep_others`); files that no build
    wrote stay. Raises OutputError, and then the folder is as it was.
    """
    folder = folder.resolve()
    if folder.exists() and not folder.is_dir():
        raise OutputError(f"{folder} is a file; name a folder with --output")
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        stage = Path(tempfile.mkdtemp(prefix=f".{folder.name}-", dir=folder.parent))
    except OSError as error:
        raise OutputError(f"{folder.parent} cannot be written ({error.strerror}); name another folder") from error
    try:
        _fill(stage, folder, documents, keep_others)
        _swap(stage, folder)
    except OSError as error:
        raise OutputError(f"{folder} could not be written ({error.strerror}); nothing was changed") from error
    finally:
        shutil.rmtree(stage, ignore_errors=True)


def stale_outputs(folder: Path, documents: Mapping[str, bytes], *, partly: bool = False) -> list[tuple[str, str]]:
    """The names that differ from `documents`, with the reason, sorted."""
    stale = []
    for name in sorted(documents):
        file = folder / name
        if not file.is_file():
            stale.append((name, "missing"))
        elif file.read_bytes() != documents[name]:
            stale.append((name, "differs from what the source gives now"))
    if not partly:
        stale += [(name, "no longer an output") for name in sorted(_own_files(folder) - documents.keys())]
    return sorted(stale)


def _own_files(folder: Path) -> set[str]:
    try:
        return set(json.loads((folder / MANIFEST).read_text(encoding="utf-8"))["files"])
    except (OSError, ValueError, KeyError, TypeError):
        return set()


def _fill(stage: Path, folder: Path, documents: Mapping[str, bytes], keep_others: bool) -> None:
    own = set() if keep_others else _own_files(folder)
    if folder.is_dir():
        for file in sorted(folder.rglob("*")):
            name = file.relative_to(folder).as_posix()
            if file.is_file() and name not in own and name not in documents and name != MANIFEST:
                _put(stage / name, file.read_bytes())
    for name, data in documents.items():
        _put(stage / name, data)
    kept = {
        name: (stage / name).read_bytes() for name in _own_files(folder) if keep_others and (stage / name).is_file()
    }
    _put(stage / MANIFEST, manifest_bytes({**kept, **documents}))
    os.chmod(stage, 0o755)


def _put(file: Path, data: bytes) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(data)


def _swap(stage: Path, folder: Path) -> None:
    if not folder.exists():
        stage.rename(folder)
        return
    old = Path(tempfile.mkdtemp(prefix=f".{folder.name}-old-", dir=folder.parent))
    old.rmdir()
    folder.rename(old)
    try:
        stage.rename(folder)
    except OSError:
        old.rename(folder)
        raise
    shutil.rmtree(old, ignore_errors=True)
