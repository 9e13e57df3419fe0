"""Reading and writing the engineer's own files: whole or not at all, with the rights they had."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterable, Iterator
from pathlib import Path

from fedfrom.cli.outputs import OutputError


def write_source(path: Path, content: bytes) -> None:
    """Replaces a file (what a link leads to, not the link) in one step. Raises OutputError; then it is as it was."""
    target = path.resolve()
    try:
        mode = target.stat().st_mode & 0o777 if target.exists() else None
        handle, aside = tempfile.mkstemp(prefix=f".{target.name}-", dir=target.parent)
        try:
            with os.fdopen(handle, "wb") as stream:
                stream.write(content)
            os.chmod(aside, mode if mode is not None else 0o644)
            os.replace(aside, target)
        except OSError:
            Path(aside).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise OutputError(f"{path.as_posix()} cannot be written ({error.strerror}); it is left as it is") from error


def write_new(path: Path, content: bytes) -> None:
    """Writes a file that does not exist, and the folders that it needs. Raises OutputError for one that does."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("xb") as stream:
            stream.write(content)
    except FileExistsError as error:
        taken = path if path.exists() else next(p for p in path.parents if p.exists())
        raise OutputError(f"{taken.as_posix()} exists; nothing is overwritten: choose another name") from error
    except OSError as error:
        raise OutputError(f"{path.as_posix()} cannot be written ({error.strerror}); choose another place") from error


def source_paths(places: Iterable[Path]) -> Iterator[Path]:
    """Files as given, and every .fed file below folders in order of the alphabet (none that is hidden), each once.

    Raises FileNotFoundError with a message for a place that does not exist or holds no such file.
    """
    seen: set[Path] = set()
    for place in places:
        if not place.exists():
            raise FileNotFoundError(f"there is no file or folder `{place.as_posix()}`")
        found = _below(place) if place.is_dir() else [place]
        if not found:
            raise FileNotFoundError(f"the folder `{place.as_posix()}` holds no .fed file")
        for file in found:
            if file.resolve() not in seen:
                seen.add(file.resolve())
                yield file


def _below(folder: Path) -> list[Path]:
    files = (file for file in folder.rglob("*.fed") if file.is_file())
    return sorted(file for file in files if not any(p.startswith(".") for p in file.relative_to(folder).parts))
