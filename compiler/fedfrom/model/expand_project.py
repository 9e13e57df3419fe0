"""A project read and parsed: the trees of its `.fed` files and its CSV tables, before anything is expanded."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from fedfrom.findings import Finding, Severity
from fedfrom.model.csv_table import CsvTable, read_table
from fedfrom.source import SourceFile
from fedfrom.source.folder import MemoryFolder
from fedfrom.syntax.parse import Parsed, parse_file
from fedfrom.syntax.project import ProjectText, Wanted, read_from
from fedfrom.syntax.project import read_project as read_texts
from fedfrom.syntax.tree import FileSource, For, Include, Line, Statement, Text, Tree, Typical, Use, Word


@dataclass(frozen=True, slots=True)
class ParsedProject:
    """All texts of a project by name with their trees and tables. `root` is "" when nothing could be read.

    `resolved`: (asking file, path as written) -> name in `files`.
    """

    files: Mapping[str, SourceFile]
    root: str
    trees: Mapping[str, Tree]
    tables: Mapping[str, CsvTable]
    resolved: Mapping[tuple[str, str], str]
    findings: tuple[Finding, ...]

    def table(self, asking: str, path: str) -> CsvTable | None:
        """The table that a file asks for by this path; None where it could not be read (that has its finding)."""
        name = self.resolved.get((asking, path))
        return None if name is None else self.tables.get(name)


def read_project(path: Path) -> ParsedProject:
    """Read and parse a `.fed` file, or a folder with a `project.fed`, and all that it asks for."""
    reader = _Parsing()
    return reader.project(read_texts(path, reader.wanted))


def project_of_text(text: str, name: str = "project.fed", files: Mapping[str, str] | None = None) -> ParsedProject:
    """As `read_project`, for a text in memory and the files (`.fed` and CSV, by name) that it may ask for."""
    reader = _Parsing()
    return reader.project(read_from(MemoryFolder({**(files or {}), name: text}), name, reader.wanted))


class _Parsing:
    """Parses each file when the reading comes to it, for only its tree says which files it asks for."""

    def __init__(self) -> None:
        self.parsed: dict[str, Parsed] = {}
        self.findings: list[Finding] = []

    def wanted(self, source: SourceFile) -> list[Wanted]:
        parsed = self.parsed[source.name] = parse_file(source)
        return list(self._wanted(parsed.tree.statements, True))

    def project(self, text: ProjectText) -> ParsedProject:
        tables = {}
        findings = [*text.findings, *self.findings]
        for parsed in self.parsed.values():
            findings.extend(parsed.findings)
        for name in text.files:
            if name in text.tables:
                tables[name], found = read_table(text.files[name])
                findings.extend(found)
        trees = {name: self.parsed[name].tree for name in text.files if name not in text.tables}
        root = text.root if text.files else ""
        return ParsedProject(text.files, root, trees, tables, text.resolved, tuple(findings))

    def _wanted(self, statements: tuple[Statement, ...], is_top: bool = False) -> Iterator[Wanted]:
        for statement in statements:
            if isinstance(statement, Include):
                if is_top:  # elsewhere it is refused, and nothing is read
                    yield from self._plain(statement.path, False)
            elif isinstance(statement, For):
                if isinstance(statement.source, FileSource):
                    yield from self._plain(statement.source.path, True)
                yield from self._wanted(statement.block.statements)
            elif isinstance(statement, Typical):
                yield from self._wanted(statement.block.statements)
            elif isinstance(statement, (Use, Line)):
                for path in table_paths(statement) if isinstance(statement, Line) else ():
                    yield from self._plain(path, True)
                if statement.block is not None:
                    yield from self._wanted(statement.block.statements)

    def _plain(self, path: Text, is_table: bool) -> Iterator[Wanted]:
        """A path is plain text, so that the files of a project are known before anything is expanded."""
        if all(isinstance(segment, str) for segment in path.segments):
            yield Wanted(path.text, path.span, is_table)
            return
        message = "the path of a file holds brackets"
        advice = "name the file; a column of one table can tell its rows apart instead"
        self.findings.append(Finding("file-path", Severity.ERROR, path.text, message, path.span, help=advice))


OWN_TABLES = ("limits", "dimensions")


def table_paths(line: Line) -> Iterator[Text]:
    """The tables that a line asks for: `loads from "x.csv"`, and `limits "x.csv"` also after a comma of one line."""
    for run in line.runs:
        word, path = run.parts if len(run.parts) == 2 else (None, None)
        if isinstance(word, Word) and isinstance(path, Text) and word.text in OWN_TABLES:
            yield path
    loads = loads_path(line)
    if loads is not None:
        yield loads


def loads_path(line: Line) -> Text | None:
    """The path in a `loads from "file.csv"` line, None for any other line."""
    parts = line.runs[0].parts if line.runs else ()
    if len(parts) < 3 or not all(isinstance(part, Word) for part in parts[:2]) or not isinstance(parts[2], Text):
        return None
    return parts[2] if [part.text for part in parts[:2]] == ["loads", "from"] else None  # type: ignore[union-attr]
