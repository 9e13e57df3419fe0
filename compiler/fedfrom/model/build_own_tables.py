"""Tables of the project's own: `limits` of the gear classes and `dimensions` of gear, in place of ours.

A file has the columns of our table (those that carry a limit or a size; status, source and note may be left out). Its
rows replace ours of the same class and attribute, or of the same kind and part; what it does not name stays ours.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from fedfrom.findings import Finding, Severity
from fedfrom.findings.nearest import listed, nearest
from fedfrom.model.csv_table import Cell, CsvRow, CsvTable
from fedfrom.model.items import Fact, Model
from fedfrom.tables import Edition, load_edition
from fedfrom.tables.edition import OwnTable


@dataclass(frozen=True, slots=True)
class OwnKind:
    """One kind of own table: the property that names it, our table, and what its columns are.

    `group`: the columns whose values name what a row replaces. `numbers` and `choices` are checked where they are
    filled; `needed` must be there.
    """

    word: str
    table: str
    needed: tuple[str, ...]
    group: tuple[str, ...]
    numbers: tuple[str, ...]
    choices: Mapping[str, tuple[str, ...]]
    number_like_ours: bool = False


KINDS = (
    OwnKind(
        "limits",
        "gear_classes",
        ("class", "attribute", "value"),
        ("class", "attribute"),
        (),
        {"severity": ("error", "warning", "")},
        number_like_ours=True,
    ),
    OwnKind(
        "dimensions",
        "gear_dimensions",
        ("kind", "part", "up_to", "width_in", "depth_in", "height_in"),
        ("kind", "part"),
        ("up_to", "width_in", "depth_in", "height_in", "per_row_in", "weight_lb"),
        {"mounting": ("floor", "wall", ""), "across": ("1", "2", "")},
    ),
)
WORDS = tuple(kind.word for kind in KINDS)


def edition_of(model: Model) -> Edition:
    """The tables of the model's code edition, with those of the project's own in them."""
    return load_edition(model.project.code.value).with_own(model.own_tables)


def own_tables(model: Model, table_at: Mapping[str, CsvTable | None]) -> tuple[dict[str, OwnTable], list[Finding]]:
    """The own tables that the project names, and what is wrong with them. `table_at[word]` is the file as read."""
    base = load_edition(model.project.code.value)
    found: dict[str, OwnTable] = {}
    findings: list[Finding] = []
    for kind in KINDS:
        fact = model.project.facts.first(kind.word)
        table = table_at.get(kind.word)
        if fact is None or table is None:
            continue
        problems = list(_heading_problems(kind, table, fact))
        if not problems:
            rows, problems = _rows(kind, table, base.rows(kind.table))
            if rows:
                found[kind.table] = OwnTable(table.name, _merged(kind, base.rows(kind.table), rows, table.name))
        findings += problems
    return found, findings


def _heading_problems(kind: OwnKind, table: CsvTable, fact: Fact) -> Iterator[Finding]:
    missing = [name for name in kind.needed if name not in table.columns]
    if missing:
        has = ", ".join(f"`{cell.text}`" for cell in table.headings) or "none"
        lacks = ", ".join(f"`{name}`" for name in missing)
        message = f"`{table.name}` has no column {lacks}; it has {has}"
        advice = f"a table of {kind.word} has the columns {', '.join(kind.needed)}"
        yield Finding("own-table", Severity.ERROR, table.name, message, fact.span, help=advice)


def _rows(
    kind: OwnKind, table: CsvTable, ours: Iterable[Mapping[str, str]]
) -> tuple[list[dict[str, str]], list[Finding]]:
    """The rows that can be used; one with a problem is left out, and ours stays."""
    known = {tuple(row[name] for name in kind.group): row for row in ours}
    rows: list[dict[str, str]] = []
    findings: list[Finding] = []
    for row in table.rows:
        cells = {name: row.cells[index] for name, index in table.columns.items() if index < len(row.cells)}
        problem = _problem(kind, table, row, cells, known)
        if problem is None:
            rows.append({name: cell.text for name, cell in cells.items()})
        else:
            findings.append(problem)
    return rows, findings


def _problem(
    kind: OwnKind,
    table: CsvTable,
    row: CsvRow,
    cells: Mapping[str, Cell],
    known: Mapping[tuple[str, ...], Mapping[str, str]],
) -> Finding | None:
    group = tuple(cells[name].text for name in kind.group)
    ours = known.get(group)
    if ours is None:
        near = nearest(" ".join(group), [" ".join(key) for key in known])
        advice = f"{listed(near)} is close" if near else f"see our table {kind.table} for the names"
        message = f"`{', '.join(group)}` is not known in a table of {kind.word}"
        return _finding(table, message, row, cells, kind.group[-1], advice)
    for name in (*kind.numbers, *(("value",) if kind.number_like_ours and _is_number(ours["value"]) else ())):
        cell = cells.get(name)
        if cell is not None and cell.text and not _is_number(cell.text):
            return _finding(table, f"`{cell.text}` is not a number", row, cells, name, "write a plain number: 1200")
        if cell is not None and not cell.text and name in ("up_to", "value"):
            return _finding(table, f"`{name}` is empty", row, cells, name, "write a number, or leave the row out")
    for name, choices in kind.choices.items():
        cell = cells.get(name)
        if cell is not None and cell.text not in choices:
            words = listed([choice for choice in choices if choice])
            return _finding(
                table, f"`{cell.text}` is not one of {words}", row, cells, name, f"write {words}, or nothing"
            )
    return None


def _finding(
    table: CsvTable, message: str, row: CsvRow, cells: Mapping[str, Cell], column: str, advice: str
) -> Finding:
    cell = cells.get(column)
    span = cell.span if cell is not None and cell.text else row.span
    note = "the row is left out; our own figure stays"
    return Finding(
        "own-table", Severity.ERROR, table.name, f"{table.name}: {message}", span, notes=(note,), help=advice
    )


def _is_number(text: str) -> bool:
    try:
        return float(text) >= 0 and float(text) < 1e9
    except ValueError:
        return False


def _merged(
    kind: OwnKind, ours: Iterable[Mapping[str, str]], own: list[dict[str, str]], name: str
) -> tuple[tuple[tuple[str, str], ...], ...]:
    """Our rows with those of the same group replaced; a limit without a severity is a planning limit."""
    columns: list[str] = []
    waiting: dict[tuple[str, ...], list[dict[str, str]]] = {}
    for row in own:
        waiting.setdefault(tuple(row[key] for key in kind.group), []).append(row)
    merged = []
    done: set[tuple[str, ...]] = set()
    for old in ours:
        columns = columns or list(old)
        group = tuple(old[key] for key in kind.group)
        if group not in waiting:
            merged.append(tuple(old.items()))
        elif group not in done:
            done.add(group)
            rows = waiting[group]
            if "up_to" in kind.needed:
                rows = sorted(rows, key=lambda row: float(row["up_to"]))
            merged += [_completed(row, old, columns, name) for row in rows]
    return tuple(merged)


def _completed(
    row: Mapping[str, str], old: Mapping[str, str], columns: list[str], name: str
) -> tuple[tuple[str, str], ...]:
    """An own row with every column of ours: unit and severity stay as ours are, the source is the file."""
    filled = {column: row.get(column, "") for column in columns}
    for column in ("unit", "severity", "mounting", "across"):
        if column in filled and column not in row:
            filled[column] = old[column]
    filled["status"] = row.get("status") or "the project's own"
    if "source" in filled:
        filled["source"] = row.get("source") or name
    filled["own"] = name
    return tuple(filled.items())
