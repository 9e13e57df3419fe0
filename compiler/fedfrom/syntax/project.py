"""The texts of a project: a `.fed` file or a folder, and every file that it asks for, read once, inside the folder.

What a file asks for stands in its syntax tree: the caller gives a function that parses a text and looks, so that
reading and parsing take turns.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from fedfrom.findings.finding import Finding, Label, Severity
from fedfrom.findings.nearest import listed, nearest
from fedfrom.source.folder import Absence, DiskFolder, FileBytes, Folder, Unread
from fedfrom.source.span import SourceFile, Span

ROOT_NAME = "project.fed"
MOST_BYTES = 5_000_000
MOST_FILES = 1_000


@dataclass(frozen=True, slots=True)
class Wanted:
    """A file that a text asks for: the path as written, its span, and whether it is language or a table (CSV)."""

    path: str
    span: Span
    is_table: bool = False


@dataclass(frozen=True, slots=True)
class ProjectText:
    """The texts of a project by name: the root file first, the others in the order in which they are asked for.

    `tables` holds the names of the CSV files among them. `resolved` leads from (asking file, path as written) to the
    name in `files`; a path that could not be read has no entry, and a finding.
    """

    files: Mapping[str, SourceFile]
    root: str
    findings: tuple[Finding, ...]
    tables: frozenset[str] = frozenset()
    resolved: Mapping[tuple[str, str], str] = field(default_factory=dict)


def read_project(path: Path, wanted_by: Callable[[SourceFile], Iterable[Wanted]]) -> ProjectText:
    """Read a `.fed` file or a folder's `project.fed`, and the files that `wanted_by` finds in each text read.

    Every problem is a finding. `files` is empty when the root file itself could not be read.
    """
    try:
        if path.is_dir():
            return _read_folder(path, wanted_by)
        if path.exists() or path.is_symlink():
            return read_from(DiskFolder(path.parent), path.name, wanted_by)
        return _failed("", _missing_root(path))
    except (OSError, ValueError) as error:  # a name too long, a NUL in it, a folder that may not be entered
        reason = getattr(error, "strerror", None) or str(error)
        return _failed("", _root_finding("file-unreadable", str(path), f"`{path}` cannot be read: {reason}"))


def read_from(folder: Folder, root: str, wanted_by: Callable[[SourceFile], Iterable[Wanted]]) -> ProjectText:
    """As `read_project`, for the file `root` of any folder (also texts in memory)."""
    return _Reader(folder, root, wanted_by).read()


def _read_folder(path: Path, wanted_by: Callable[[SourceFile], Iterable[Wanted]]) -> ProjectText:
    folder = DiskFolder(path)
    if isinstance(folder.read(ROOT_NAME, 0), Unread) and not (path / ROOT_NAME).exists():
        others = [name for name in sorted(folder.names(".fed")) if "/" not in name]
        advice = (
            f"name the file: {listed(f'{path.as_posix()}/{name}' for name in others[:5])}"
            if others
            else (f"write a `{ROOT_NAME}` in it; `fedfrom new` makes one to start from")
        )
        message = f"the folder `{path}` has no `{ROOT_NAME}`"
        return _failed("", _root_finding("project-file-missing", str(path), message, advice))
    text = read_from(folder, ROOT_NAME, wanted_by)
    forgotten = tuple(
        Finding(
            "file-not-included",
            Severity.WARNING,
            name,
            f"`{name}` lies in the project folder and nothing includes it",
            None,
            help=f'write `include "{name}"` in `{ROOT_NAME}`, or move the file out of the folder',
        )
        for name in sorted(folder.names(".fed"))
        if name not in text.files and text.files
    )
    return ProjectText(text.files, text.root, (*text.findings, *forgotten), text.tables, text.resolved)


@dataclass
class _Reader:
    """One reading of a project; the files are read in the order in which they are asked for."""

    folder: Folder
    root: str
    wanted_by: Callable[[SourceFile], Iterable[Wanted]]
    files: dict[str, SourceFile] = field(default_factory=dict)
    tables: set[str] = field(default_factory=set)
    resolved: dict[tuple[str, str], str] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    by_identity: dict[str, str] = field(default_factory=dict)
    asked_at: dict[str, Span] = field(default_factory=dict)

    def read(self) -> ProjectText:
        found = self.folder.read(self.root, MOST_BYTES)
        if isinstance(found, Unread):
            return _failed(self.root, _unread_finding(self.root, found, None))
        source = decode(self.root, found)
        if isinstance(source, Finding):
            return _failed(self.root, source)
        if not source.text.strip():
            message = f"`{self.root}` is empty"
            self.findings.append(_root_finding("file-empty", self.root, message, "a project begins with `fedfrom 1`"))
        self._take(source, found)
        return ProjectText(self.files, self.root, tuple(self.findings), frozenset(self.tables), self.resolved)

    def _take(self, first: SourceFile, found: FileBytes) -> None:
        """Keep a text and follow what it asks for, depth first (by a stack: a chain of files may be long)."""
        self._keep(first, found)
        waiting = [(first.name, iter(tuple(self.wanted_by(first))))]
        while waiting:
            asking, rest = waiting[-1]
            wanted = next(rest, None)
            if wanted is None:
                waiting.pop()
                continue
            source = self._fetch(asking, wanted)
            if source is not None and not wanted.is_table:
                waiting.append((source.name, iter(tuple(self.wanted_by(source)))))

    def _keep(self, source: SourceFile, found: FileBytes) -> None:
        self.files[source.name] = source
        self.by_identity[found.identity] = source.name

    def _fetch(self, asking: str, wanted: Wanted) -> SourceFile | None:
        """Read a wanted file that is not read yet; None where it is, or cannot be."""
        problem = _path_problem(wanted.path, wanted.is_table)
        if problem is not None:
            self._refuse(wanted, *problem)
            return None
        name = posixpath.normpath(posixpath.join(posixpath.dirname(asking), wanted.path))
        if name.startswith(("../", "/")) or name in ("..", "."):
            self._refuse(wanted, f"`{wanted.path}` leads out of the project folder", "keep the file inside the folder")
            return None
        if name in self.files:
            self._found_again(asking, wanted, name)
            return None
        if len(self.files) >= MOST_FILES:
            self._refuse(wanted, f"the project has more than {MOST_FILES} files", "join some of them")
            return None
        found = self.folder.read(name, MOST_BYTES)
        if isinstance(found, Unread):
            self.findings.append(_unread_finding(wanted.path, found, wanted.span, self._near(asking, wanted, name)))
            return None
        if found.identity in self.by_identity:
            self._found_again(asking, wanted, self.by_identity[found.identity])
            return None
        return self._decode(asking, wanted, name, found)

    def _decode(self, asking: str, wanted: Wanted, name: str, found: FileBytes) -> SourceFile | None:
        source = decode(name, found, wanted.span)
        if isinstance(source, Finding):
            self.findings.append(source)
            return None
        if not source.text.strip():
            self.findings.append(_finding("file-empty", name, f"`{name}` is empty", wanted.span))
        self._keep(source, found)
        self.resolved[asking, wanted.path] = name
        self.asked_at[name] = wanted.span
        if wanted.is_table:
            self.tables.add(name)
        return source

    def _found_again(self, asking: str, wanted: Wanted, name: str) -> None:
        """A table may be used often; a file of the language is read once, whoever asks for it again."""
        if wanted.is_table != (name in self.tables):
            sort = "a file of the language" if wanted.is_table else "a table"
            self._refuse(wanted, f"`{name}` is read as {sort} elsewhere in the project", "")
            return
        self.resolved[asking, wanted.path] = name
        if wanted.is_table:
            return
        before = self.asked_at.get(name)
        message = f"`{name}` is the root file" if name == self.root else f"`{name}` is included more than once"
        self.findings.append(
            Finding(
                "included-again",
                Severity.NOTE,
                name,
                f"{message}; it is read once",
                wanted.span,
                related=(Label(before, "included here first"),) if before else (),
                help="one `include` of a file is enough: leave this one out",
            )
        )

    def _refuse(self, wanted: Wanted, message: str, advice: str) -> None:
        self.findings.append(_finding("file-path", wanted.path, message, wanted.span, advice))

    def _near(self, asking: str, wanted: Wanted, name: str) -> str:
        """The path, as the asking file would write it, of a stored file that the name may be meant for."""
        ending = ".csv" if wanted.is_table else ".fed"
        close = nearest(name, [other for other in sorted(self.folder.names(ending)) if other != asking])
        return posixpath.relpath(close[0], posixpath.dirname(asking) or ".") if close else ""


def decode(name: str, found: FileBytes, asked_at: Span | None = None) -> SourceFile | Finding:
    """The text of a file: UTF-8, an opening byte-order mark left out, line ends as they are."""
    content = found.content
    if len(content) > MOST_BYTES:
        message = f"`{name}` is larger than {MOST_BYTES // 1_000_000} MB"
        return _finding("file-too-large", name, message, asked_at, "divide it into files of a floor or a system each")
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return _finding("file-encoding", name, f"`{name}` is UTF-16 text", asked_at, _SAVE_AS)
    if b"\x00" in content:
        offset = content.index(b"\x00")
        message = f"`{name}` is not text: byte {offset + 1} is zero"
        return _finding("file-binary", name, message, asked_at, "give a text file; a workbook is saved as CSV first")
    try:
        return SourceFile(name, content.decode("utf-8").removeprefix("\ufeff"), found.path)
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        column = error.start - (content.rfind(b"\n", 0, error.start) + 1) + 1
        message = (
            f"`{name}` is not UTF-8 text: byte {error.start + 1} (line {line}, byte {column} of it) is "
            f"0x{content[error.start]:02X}"
        )
        return _finding("file-encoding", name, message, asked_at, _SAVE_AS)


_SAVE_AS = "save the file as UTF-8 (in a spreadsheet: “CSV UTF-8”)"


def _path_problem(path: str, is_table: bool) -> tuple[str, str] | None:
    """What is wrong with a path as written (message, help), or None. The rules are those of the language."""
    what = "file.csv" if is_table else "file.fed"
    if not path.strip():
        return "the path is empty", f'write the path of the file: `"{what}"`'
    if "\\" in path:
        return f"`{path}` holds a backslash", f"parts of a path are joined with `/`: `{path.replace(chr(92), '/')}`"
    if re.match(r"[A-Za-z][A-Za-z0-9+.-]*://", path):
        return f"`{path}` is a web address", "copy the file into the project folder"
    if path.startswith(("/", "~")) or re.match(r"[A-Za-z]:", path):
        return f"`{path}` is not relative to this file", "write the path from this file's folder"
    if any(character in path for character in "*?[]"):
        return f"`{path}` holds a wildcard", "name each file in a line of its own"
    if any(ord(character) < 32 for character in path):
        return "the path holds a control character", f'write the path of the file: `"{what}"`'
    return None


def _finding(rule: str, subject: str, message: str, span: Span | None, advice: str = "") -> Finding:
    return Finding(rule, Severity.ERROR, subject, message, span, help=advice)


def _root_finding(rule: str, subject: str, message: str, advice: str = "") -> Finding:
    return _finding(rule, subject, message, None, advice)


def _failed(root: str, finding: Finding) -> ProjectText:
    return ProjectText({}, root, (finding,))


def _missing_root(path: Path) -> Finding:
    beside = sorted(path.parent.iterdir()) if path.parent.is_dir() else []
    names = [entry.name for entry in beside if entry.suffix == ".fed" or entry.is_dir()]
    close = [(path.parent / name).as_posix() for name in nearest(path.name, names)]
    advice = f"{listed(close)} is close" if close else "check the path"
    return _root_finding("file-missing", str(path), f"`{path}` does not exist", advice)


def _unread_finding(path: str, unread: Unread, span: Span | None, near: str = "") -> Finding:
    message = f"`{path}` {unread.absence.value}"
    if unread.absence is Absence.CASE:
        return _finding("file-path", path, message, span, f"write it as it is stored: `{unread.detail}`")
    if unread.absence is Absence.OUTSIDE:
        return _finding("file-path", path, message, span, "copy the file into the project folder")
    if unread.absence is Absence.MISSING:
        return _finding("file-missing", path, message, span, f"`{near}` is close" if near else "check the path")
    if unread.absence is Absence.FOLDER:
        return _finding("file-path", path, message, span, "name a file in it")
    return _finding("file-unreadable", path, f"{message}: {unread.detail}", span)
