"""`Edition`: the tables and clause numbers of one code edition, with inheritance between editions.

A folder holds `<table>.csv` files, `tables.toml` (for each table: standard, table, status, note, the checks to make)
and `clauses.toml` (key -> clause text, for messages). `inherits = "nec-2023"` in `tables.toml` takes what is not there.
The folder `practice` holds what no code states; its rows carry their status.

Rows that hold for some editions only say so in a column: `edition` (one year), `editions` ("2017-2020" or one year) or
`since_edition` (first year, empty for always). `rows` leaves out those that do not hold for the edition.
"""

from __future__ import annotations

import csv
import hashlib
import io
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable


class TableError(Exception):
    """A table file is missing or malformed: a bug of the installation, found by the loader test."""


@dataclass(frozen=True, slots=True)
class OwnTable:
    """A table of the project's own, already checked: the file's name and its rows as (column, text) pairs."""

    file: str
    rows: tuple[tuple[tuple[str, str], ...], ...]


@dataclass(frozen=True)
class Edition:
    """One edition: `key` ("NEC 2023"), `year`, and its folder chain (own first).

    `own` names, by a digest, the tables of the project's own that replace ours; `own_files` table -> file name.
    """

    key: str
    year: int
    folders: tuple[str, ...]
    own: str = ""
    own_files: Mapping[str, str] = field(default_factory=dict, compare=False, repr=False)
    _cache: dict[str, tuple[dict[str, str], ...]] = field(default_factory=dict, compare=False, repr=False)

    def rows(self, table: str) -> tuple[dict[str, str], ...]:
        """The rows of a table as text by column, from the first folder of the chain that has it, then `practice`.

        Raises TableError where no folder has it.
        """
        if table not in self._cache:
            self._cache[table] = self._read(table)
        return self._cache[table]

    def with_own(self, tables: Mapping[str, OwnTable]) -> Edition:
        """The edition with tables of the project's own in place of ours."""
        if not tables:
            return self
        text = repr([(name, tables[name].rows) for name in sorted(tables)])
        edition = Edition(
            self.key,
            self.year,
            self.folders,
            hashlib.sha256(text.encode()).hexdigest(),
            {name: table.file for name, table in tables.items()},
        )
        for name, table in tables.items():
            edition._cache[name] = tuple(dict(row) for row in table.rows)
        return edition

    def clause(self, key: str) -> str:
        """The clause for messages ("NEC 2023, 240.6(A)"); "common practice, no source" for "practice".

        Raises TableError for an unknown key, so that a message can never cite nothing.
        """
        if key == "practice":
            return "common practice, no source"
        for folder in self.folders:
            clauses = _clauses(folder)
            if key in clauses:
                text = clauses[key]
                in_code = text[0].isdigit() or text.startswith(("Table", "Chapter", "Annex", "Article"))
                return f"{self.key}, {text}" if in_code else text
        raise TableError(f"no clause {key!r} in {self.key}")

    def _read(self, table: str) -> tuple[dict[str, str], ...]:
        for folder in (*self.folders, "practice"):
            resource = _root() / folder / f"{table}.csv"
            if resource.is_file():
                reader = csv.DictReader(io.StringIO(resource.read_text(encoding="utf-8")))
                return tuple(dict(row) for row in reader if holds_for(row, self.year))
        raise TableError(f"no table {table!r} in {self.key}")


def holds_for(row: Mapping[str, str], year: int) -> bool:
    """Whether a row is of this edition, by its `edition`, `editions` or `since_edition` column; True without one."""
    if row.get("edition"):
        return int(row["edition"]) == year
    if row.get("since_edition"):
        return year >= int(row["since_edition"])
    if row.get("editions"):
        first, _, last = row["editions"].partition("-")
        return int(first) <= year <= int(last or first)
    return True


def _root() -> Traversable:
    return files("fedfrom.tables")


@cache
def _clauses(folder: str) -> dict[str, str]:
    resource = _root() / folder / "clauses.toml"
    if not resource.is_file():
        return {}
    data = tomllib.loads(resource.read_text(encoding="utf-8"))
    return {str(key): str(value) for key, value in data.items()}


@cache
def editions() -> tuple[str, ...]:
    """The keys of every edition present, sorted ("NEC 2017", …)."""
    names = sorted(entry.name for entry in _root().iterdir() if entry.is_dir() and entry.name.startswith("nec-"))
    return tuple(f"NEC {name.removeprefix('nec-')}" for name in names)


@cache
def load_edition(key: str) -> Edition:
    """The edition with this key. Raises TableError for an unknown one."""
    if key not in editions():
        raise TableError(f"no tables for {key!r}; there are {', '.join(editions())}")
    chain = []
    folder = "nec-" + key.removeprefix("NEC ")
    while folder:
        chain.append(folder)
        resource = _root() / folder / "tables.toml"
        data = tomllib.loads(resource.read_text(encoding="utf-8")) if resource.is_file() else {}
        folder = str(data.get("inherits", ""))
    return Edition(key, int(key.removeprefix("NEC ")), tuple(chain))
