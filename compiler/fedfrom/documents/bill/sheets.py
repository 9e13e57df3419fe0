"""What the bill shows, before it is a file: numbered lines by list, the joined catalogue, and remarks."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.documents.bill.catalog import Catalog, read_catalog
from fedfrom.documents.tables import Cell, Column, Table, number_column, text_column
from fedfrom.model.items import Status
from fedfrom.results.types import BillLine
from fedfrom.rules.registry import Design

COLUMNS = (
    text_column("ITEM", 0.5),
    text_column("SECTION", 0.8),
    text_column("DESCRIPTION", 5.2),
    number_column("NET", "", 0.7, 1),
    number_column("ALLOWANCE", "", 0.8, 1),
    number_column("QUANTITY", "", 0.7, 0),
    text_column("UNIT", 0.45),
    text_column("TAGS", 2.2),
    text_column("KIND", 1.1),
    text_column("STATUS", 0.8),
    text_column("ASSUMED", 2.2),
    text_column("NOTE", 2.2),
    text_column("KEY", 3.0),
)


@dataclass(frozen=True, slots=True)
class BillView:
    """The bill for readers: one table a list, and remarks (assumptions, what is not bought, catalogue)."""

    tables: tuple[Table, ...]
    remarks: tuple[str, ...]


def bill_view(design: Design) -> BillView:
    """The two lists, work on what is there, and remarks."""
    catalog = read_catalog(design)
    columns = (*COLUMNS, *(Column(name, "", 1.2) for name in catalog.columns))
    bought = [line for line in design.results.bill if line.status == Status.NEW.value]
    other = [line for line in design.results.bill if line.status != Status.NEW.value]
    lists = (
        ("FACTORY GEAR", "G", [line for line in bought if line.list_name == "factory gear"]),
        ("FIELD MATERIAL", "F", [line for line in bought if line.list_name == "field material"]),
        ("WORK ON WHAT IS THERE", "W", other),
    )
    tables = tuple(Table(title, columns, _rows(letter, lines, catalog)) for title, letter, lines in lists if lines)
    return BillView(tables, (*_remarks(design, catalog),))


def _rows(letter: str, lines: list[BillLine], catalog: Catalog) -> tuple[tuple[Cell, ...], ...]:
    rows: list[tuple[Cell, ...]] = []
    number, part = 0, 0
    for line in lines:
        if line.part_of:
            part += 1
            item = f"{letter}{number}.{part}"
        else:
            number, part = number + 1, 0
            item = f"{letter}{number}"
        joined = catalog.rows.get(line.key, ("",) * len(catalog.columns)) if not line.part_of else None
        rows.append(
            (
                item,
                line.section,
                f"    {line.description}" if line.part_of else line.description,
                line.net,
                line.allowance or "",
                line.quantity,
                line.unit,
                ", ".join(line.tags),
                line.kind,
                line.status,
                "; ".join(line.assumed),
                line.note,
                line.key,
                *(number_or_text(cell) for cell in joined or ("",) * len(catalog.columns)),
            )
        )
    return tuple(rows)


def number_or_text(cell: str) -> Cell:
    """A catalogue cell: a plain decimal number as a number, all else as text (part numbers keep their zeros)."""
    is_plain = cell.replace(".", "", 1).isdigit() and not (len(cell) > 1 and cell[0] == "0" and cell[1] != ".")
    return float(cell) if is_plain and len(cell) < 15 else cell


def _remarks(design: Design, catalog: Catalog) -> list[str]:
    remarks = [
        "Generic descriptions; no maker or part number is implied.",
        "Lines numbered with a dot are included in the line above and are not priced again.",
        "Quantities in feet: net of the plan, allowance for make-up and waste, quantity = both, rounded up to a foot.",
    ]
    others = _by_others(design)
    if others:
        remarks.append(f"Provided by others, not in this bill: {', '.join(others)}.")
    kept = [tag for tag, gear in design.results.gear.items() if gear.status is Status.EXISTING]
    if kept:
        remarks.append(f"Existing, not in this bill: {', '.join(kept)}.")
    future = [tag for tag, gear in design.results.gear.items() if gear.status is Status.FUTURE]
    if future:
        remarks.append(f"Future, not in this bill: {', '.join(future)}.")
    unsized = [feeder.id for feeder in design.results.feeders.values() if _is_unsized(feeder.conductors, feeder.kind)]
    if unsized:
        remarks.append(f"NOT COUNTED, conductors not known: feeder {', '.join(unsized)}.")
    for item in design.results.assumptions:
        remarks.append(f"Assumed at {item.subject}: {item.what} ({item.reason}).")
    return remarks + _catalog_remarks(design, catalog)


def _is_unsized(conductors: object, kind: str) -> bool:
    return conductors is None and kind != "inside"


def _by_others(design: Design) -> list[str]:
    results = design.results
    found = [f"{tag} by {gear.by}" for tag, gear in results.gear.items() if gear.by]
    found += [f"{tag} by {item.by}" for tag, item in results.transformers.items() if item.by]
    for feeder in results.feeders.values():
        by = feeder.by or (feeder.conductors.by if feeder.conductors else "")
        if by:
            found.append(f"conductors of feeder {feeder.id} by {by}")
    for circuits in results.circuits.values():
        found += [
            f"{circuit.key} {circuit.name} by {circuit.by}".replace("  ", " ") for circuit in circuits if circuit.by
        ]
    return found


def _catalog_remarks(design: Design, catalog: Catalog) -> list[str]:
    remarks = [f"{catalog.problem[0].upper()}{catalog.problem[1:]}."] if catalog.problem else []
    if not catalog.columns:
        return remarks
    keys = {line.key for line in design.results.bill}
    unused = [key for key in catalog.rows if key not in keys]
    wanting = [
        line.key
        for line in design.results.bill
        if line.key not in catalog.rows and not line.part_of and line.status == Status.NEW.value
    ]
    if unused:
        remarks.append(f"Keys of {catalog.name} that match no line: {', '.join(unused)}.")
    if wanting:
        remarks.append(f"Lines without an entry in {catalog.name}: {', '.join(dict.fromkeys(wanting))}.")
    return remarks
