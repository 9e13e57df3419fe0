"""The user's own catalogue (`catalog "x.csv"`), joined to the bill by its key, at build only.

The file has a heading line with a column `key`; every other column is taken as it is, under its own heading.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from fedfrom.rules.registry import Design


@dataclass(frozen=True, slots=True)
class Catalog:
    """The columns and rows of a catalogue; `problem` says why there is none although one is named."""

    name: str = ""
    columns: tuple[str, ...] = ()
    rows: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    problem: str = ""


def read_catalog(design: Design) -> Catalog:
    """The catalogue that the project names; an empty one where it names none. Never raises: see `problem`."""
    name = design.model.catalog
    if not name:
        return Catalog()
    text = _text(design, name)
    if text is None:
        return Catalog(name, problem=f"the catalogue {name} could not be read; nothing is joined")
    return parse_catalog(name, text)


def parse_catalog(name: str, text: str) -> Catalog:
    """A catalogue from its text. Of two rows with one key the first is taken, and it is said."""
    rows = [row for row in csv.reader(io.StringIO(text.removeprefix("\ufeff"))) if any(cell.strip() for cell in row)]
    heads = [cell.strip() for cell in rows[0]] if rows else []
    at = next((index for index, head in enumerate(heads) if head.lower() == "key"), None)
    if at is None:
        return Catalog(name, problem=f"the catalogue {name} has no column `key`; nothing is joined")
    columns = tuple(head or f"column {index + 1}" for index, head in enumerate(heads) if index != at)
    found: dict[str, tuple[str, ...]] = {}
    twice = []
    for row in rows[1:]:
        cells = [cell.strip() for cell in row] + [""] * (len(heads) - len(row))
        key = cells[at]
        if key in found:
            twice.append(key)
        elif key:
            found[key] = tuple(cell for index, cell in enumerate(cells[: len(heads)]) if index != at)
    problem = f"the catalogue {name} has these keys twice, the first is taken: {', '.join(twice)}" if twice else ""
    return Catalog(name, columns, found, problem)


def _text(design: Design, name: str) -> str | None:
    if name in design.files:
        return design.files[name].text
    folder = _project_folder(design)
    if folder is None:
        return None
    file = (folder / name).resolve()
    if not file.is_relative_to(folder):
        return None
    try:
        return file.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError):
        return None


def _project_folder(design: Design) -> Path | None:
    """The folder that file names are relative to, from the first file of the project that is on disk."""
    for source in design.files.values():
        if source.path:
            path = Path(source.path).resolve()
            depth = len(Path(source.name).parts)
            return path.parents[depth - 1]
    return None
