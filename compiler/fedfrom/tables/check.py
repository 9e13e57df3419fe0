"""The checks that a table's side file states: header, order of the rows, units. Run by the loader's test."""

from __future__ import annotations

import csv
import io
import re
import tomllib
from importlib.resources import files
from importlib.resources.abc import Traversable

STATUSES = ("checked", "one source", "from memory", "common practice")
# A numeric column ends in its unit; the side file lists the plain numbers (counts, factors) in `plain`.
ADDRESS = re.compile(r"https?:|\bwww\.", re.IGNORECASE)
UNITS = (
    *("a", "v", "va", "kva", "kw", "ka", "c", "f", "ft", "in", "in2", "cmil", "kcmil", "percent", "pct", "hp", "ohm"),
    *("s", "hz", "mva", "ft2", "min", "kft", "load", "kv", "lb", "w", "days", "months"),
)


def table_names(folder: str) -> tuple[str, ...]:
    """The tables of a folder by the names of their CSV files, sorted."""
    return tuple(sorted(e.name.removesuffix(".csv") for e in _folder(folder).iterdir() if e.name.endswith(".csv")))


def check_folder(folder: str) -> tuple[str, ...]:
    """What is wrong with the tables of a folder, one line each; () when all is well."""
    side = tomllib.loads((_folder(folder) / "tables.toml").read_text(encoding="utf-8"))
    described = {name for name, entry in side.items() if isinstance(entry, dict)}
    names = table_names(folder)
    problems = [f"{folder}: {name} has no entry in tables.toml" for name in names if name not in described]
    problems += [f"{folder}: {name} is described but not there" for name in sorted(described - set(names))]
    for name in names:
        if name in described:
            problems += [f"{folder}/{name}: {problem}" for problem in _check_table(folder, name, side[name])]
            if side["edition"]:
                lacking = [key for key in ("standard", "table") if not side[name].get(key)]
                problems += [f"{folder}/{name}: its {key} is not stated" for key in lacking]
    return (*problems, *_addresses(folder))


def _addresses(folder: str) -> list[str]:
    """Sources are named by publication, edition and clause, never by an address."""
    texts = {e.name: e.read_text(encoding="utf-8") for e in _folder(folder).iterdir() if e.is_file()}
    return [f"{folder}/{name}: holds an address" for name in sorted(texts) if ADDRESS.search(texts[name])]


def _check_table(folder: str, name: str, entry: dict[str, object]) -> list[str]:
    text = (_folder(folder) / f"{name}.csv").read_text(encoding="utf-8")
    reader = csv.DictReader(io.StringIO(text))
    header = list(reader.fieldnames or ())
    rows = list(reader)
    problems = []
    if header != entry.get("columns"):
        problems.append(f"header {header} differs from the columns stated")
    if entry.get("status") not in STATUSES:
        problems.append(f"status {entry.get('status')!r} is none of {STATUSES}")
    if not rows:
        problems.append("no rows")
    problems += [f"row {index} is ragged" for index, row in enumerate(rows, 2) if None in row or None in row.values()]
    statuses = [(index, row.get("status", STATUSES[0])) for index, row in enumerate(rows, 2)]
    problems += [f"row {index}: status {status!r}" for index, status in statuses if status not in STATUSES]
    plain = entry.get("plain", [])
    plain = plain if isinstance(plain, list) else []
    problems += [
        f"column {column!r} has no unit in its header" for column in header if _lacks_unit(column, rows, plain)
    ]
    within = str(entry.get("within", ""))
    rising = entry.get("rising", [])
    for column in rising if isinstance(rising, list) else []:
        problems += _falls(rows, str(column), within)
    return problems


def _lacks_unit(column: str, rows: list[dict[str, str]], plain: list[object]) -> bool:
    filled = [row[column] for row in rows if row[column]]
    numeric = bool(filled) and all(_is_number(cell) for cell in filled)
    return numeric and column not in plain and column.rsplit("_", 1)[-1] not in UNITS


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


def _falls(rows: list[dict[str, str]], column: str, within: str) -> list[str]:
    problems = []
    last: dict[str, float] = {}
    for index, row in enumerate(rows, 2):
        if not row[column]:
            continue
        group = row[within] if within else ""
        if float(row[column]) < last.get(group, float("-inf")):
            problems.append(f"row {index}: {column} falls")
        last[group] = float(row[column])
    return problems


def _folder(folder: str) -> Traversable:
    return files("fedfrom.tables") / folder
