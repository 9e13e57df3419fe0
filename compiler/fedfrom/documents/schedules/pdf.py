"""The schedule set as a PDF of 11x17 sheets: views to JSON, layout in `templates/schedules/schedules.typ`."""

from __future__ import annotations

from typing import Any

from fedfrom.documents.schedules.board_form import BoardSchedule
from fedfrom.documents.schedules.header import LoadBlock
from fedfrom.documents.schedules.packing import packed
from fedfrom.documents.schedules.panel_form import PanelSchedule, Place
from fedfrom.documents.schedules.review_tables import count_text
from fedfrom.documents.schedules.sheets import GearSchedule, TableSheet, gear_schedules, legend_table, table_sheets
from fedfrom.documents.tables import Table, cell_text
from fedfrom.documents.typst_pdf import compile_pdf
from fedfrom.documents.words import CAUTION
from fedfrom.rules.registry import Design

Json = dict[str, Any]
LAYOUTS = ("typst/sheet.typ", "schedules/schedules.typ")


def schedules_pdf(design: Design) -> bytes:
    """All schedules as one PDF."""
    return compile_pdf(LAYOUTS, schedules_data(design))


def schedules_data(design: Design) -> Json:
    """What the layout gets."""
    gear = gear_schedules(design)
    tables = table_sheets(design)
    sheets = [*(_gear_sheet(group) for group in packed(gear)), *(_table_sheet(each) for each in tables)]
    return {"strip": strip_data(design), "first": _first(gear, tables), "sheets": sheets}


def strip_data(design: Design) -> Json:
    """What stands in every title strip."""
    info = design.results.project
    revision = " ".join(info.revisions[-1][:2]) if info.revisions else "NONE"
    return {
        "project": info.title or "PROJECT NOT NAMED",
        "number": info.number,
        "code": f"{info.code}{f'   DRAWN BY {info.drawn_by.upper()}' if info.drawn_by else ''}",
        "findings": count_text(design),
        "caution": CAUTION,
        "revision": revision,
        "digest": design.results.digest[:12],
    }


def _first(gear: tuple[GearSchedule, ...], tables: tuple[TableSheet, ...]) -> Json:
    contents = [(f"gear {each.tag}", each.tag, f"{each.title or each.tag}, {each.kind} schedule") for each in gear]
    for sheet in tables:
        contents.append((f"table {sheet.title}", sheet.title, "; ".join(table.title.lower() for table in sheet.tables)))
    return {"sheet": "CONTENTS AND ABBREVIATIONS", "contents": contents, "legend": table_data(legend_table())}


# A list of tags longer than this does not fit the title strip.
LONGEST_TITLE = 44


def _gear_sheet(group: list[GearSchedule]) -> Json:
    return {"form": "gear", "sheet": _sheet_title(group), "items": [_gear_item(each) for each in group]}


def _sheet_title(group: list[GearSchedule]) -> str:
    if len(group) == 1:
        return f"{group[0].tag} {group[0].kind.upper()} SCHEDULE"
    tags = ", ".join(each.tag for each in group)
    return f"SCHEDULES OF {tags if len(tags) <= LONGEST_TITLE else f'{group[0].tag} TO {group[-1].tag}'}"


def _gear_item(schedule: GearSchedule) -> Json:
    common = {
        "tag": schedule.tag,
        "title": schedule.title,
        "kind": f"{schedule.kind.upper()} SCHEDULE",
        "header": schedule.header,
        "loads": _loads(schedule.loads),
    }
    if isinstance(schedule, BoardSchedule):
        return {"form": "board", **common, "devices": table_data(schedule.devices)}
    return {"form": "panel", **common, "pairs": _pairs(schedule)}


def _loads(loads: LoadBlock) -> Json:
    return {
        "categories": table_data(loads.categories),
        "sums": loads.sums,
        "phases": loads.phases,
        "notes": loads.notes,
    }


def _pairs(schedule: PanelSchedule) -> list[tuple[Json, str, Json]]:
    return [(_place(odd), letter, _place(even)) for odd, letter, even in schedule.pairs]


def _place(place: Place) -> Json:
    return {
        "number": place.number,
        "rows": place.rows,
        "name": place.name,
        "category": place.category,
        "marks": place.marks,
        "amperes": place.amperes if isinstance(place.amperes, str) else cell_text(place.amperes),
        "poles": cell_text(place.poles),
        "device": place.device,
        "conductors": place.conductors,
        "length": cell_text(place.length_ft),
        "drop": cell_text(place.drop_pct, 1),
        "va": cell_text(place.va),
        "note": place.note,
    }


def _table_sheet(sheet: TableSheet) -> Json:
    return {"form": "table", "sheet": sheet.title, "tables": [table_data(table) for table in sheet.tables]}


def table_data(table: Table) -> Json:
    """A table as the layout draws it: every cell a text."""
    return {
        "title": table.title,
        "note": table.note,
        "columns": [
            {"head": column.head, "unit": column.unit, "width": column.width, "right": column.right}
            for column in table.columns
        ],
        "rows": [
            [cell_text(cell, column.digits) for cell, column in zip(row, table.columns, strict=True)]
            for row in table.rows
        ],
    }
