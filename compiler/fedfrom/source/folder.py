"""Where the texts of a project come from: a folder on disk, or texts in memory. Names are relative, with "/"."""

from __future__ import annotations

import enum
import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Protocol


class Absence(enum.Enum):
    """Why a file could not be read."""

    MISSING = "does not exist"
    FOLDER = "is a folder"
    OUTSIDE = "lies outside the project folder"
    CASE = "is stored under another spelling"
    UNREADABLE = "cannot be read"


@dataclass(frozen=True, slots=True)
class Unread:
    """A file that could not be read; `detail` says more (the stored spelling, the system's reason)."""

    absence: Absence
    detail: str = ""


@dataclass(frozen=True, slots=True)
class FileBytes:
    """A file's bytes and what tells it from every other file, whatever name it was reached by."""

    content: bytes
    identity: str
    path: str = ""


class Folder(Protocol):
    """A project folder."""

    def read(self, name: str, at_most: int) -> FileBytes | Unread:
        """The file of this name (up to `at_most` + 1 bytes of it), compared letter for letter."""
        ...

    def names(self, ending: str) -> Iterator[str]:
        """Names of the files below the folder with this ending, in order of the alphabet."""
        ...


@dataclass(frozen=True, slots=True)
class MemoryFolder:
    """Texts by name, for tests and for text that is not on disk."""

    texts: Mapping[str, str | bytes] = field(default_factory=dict)

    def read(self, name: str, at_most: int) -> FileBytes | Unread:
        text = self.texts.get(name)
        if text is None:
            same = [stored for stored in self.texts if stored.casefold() == name.casefold()]
            return Unread(Absence.CASE, same[0]) if same else Unread(Absence.MISSING)
        content = text.encode("utf-8", "surrogatepass") if isinstance(text, str) else text
        return FileBytes(content[: at_most + 1], name)

    def names(self, ending: str) -> Iterator[str]:
        return iter(sorted(name for name in self.texts if name.endswith(ending)))


@dataclass(frozen=True, slots=True)
class DiskFolder:
    """A folder on disk. A link may lead anywhere inside it, nowhere outside."""

    root: Path

    def read(self, name: str, at_most: int) -> FileBytes | Unread:
        path = self.root / name
        try:
            stored = _stored_spelling(self.root, name)
            if stored != name:
                return Unread(Absence.CASE, stored) if stored else Unread(Absence.MISSING)
            real = path.resolve(strict=True)
            if not real.is_relative_to(self.root.resolve()):
                return Unread(Absence.OUTSIDE)
            if real.is_dir():
                return Unread(Absence.FOLDER)
            if not real.is_file():  # a pipe or a device would never end
                return Unread(Absence.UNREADABLE, "not a plain file")
            with real.open("rb") as stream:
                return FileBytes(stream.read(at_most + 1), str(real), str(path))
        except FileNotFoundError:
            return Unread(Absence.MISSING)
        except (OSError, RuntimeError, ValueError) as error:  # links in a circle; a NUL in a name
            return Unread(Absence.UNREADABLE, getattr(error, "strerror", None) or str(error))

    def names(self, ending: str) -> Iterator[str]:
        """Hidden folders are left out, and folders below that are projects of their own (they hold a `project.fed`)."""
        for place, folders, files in os.walk(self.root):
            own = Path(place) != self.root and "project.fed" in files
            folders[:] = [] if own else sorted(folder for folder in folders if not folder.startswith("."))
            if not own:
                for file in sorted(files):
                    if file.endswith(ending) and not file.startswith("."):
                        yield (Path(place) / file).relative_to(self.root).as_posix()


def _stored_spelling(root: Path, name: str) -> str:
    """`name` as its folders store it, "" where nothing has the name even when case is ignored.

    Compared with the folder's list, for a system that ignores case would open the file under any spelling.
    """
    place, stored = root, []
    for part in name.split("/"):
        if part == "..":
            return ""
        entries = os.listdir(place) if place.is_dir() else []
        if part not in entries:
            part = next((entry for entry in sorted(entries) if entry.casefold() == part.casefold()), "")
        if not part:
            return ""
        stored.append(part)
        place = place / part
    return "/".join(stored)
