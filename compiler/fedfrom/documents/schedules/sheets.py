"""The set of schedule sheets, in order. A new schedule is one entry of `TABLES`."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

from fedfrom.documents.schedules.board_form import BoardSchedule, board_schedule
from fedfrom.documents.schedules.duty_tables import fault_table, grounding_table, rating_table
from fedfrom.documents.schedules.feeder_tables import (
    drop_table,
    feeder_table,
    source_table,
    state_table,
    transformer_table,
)
from fedfrom.documents.schedules.load_tables import category_summary, equipment_table, load_summary
from fedfrom.documents.schedules.panel_form import PanelSchedule, has_positions, panel_schedule
from fedfrom.documents.schedules.review_tables import (
    accepted_table,
    assumption_table,
    expectation_table,
    findings_table,
    rule_table,
)
from fedfrom.documents.tables import Table, text_column
from fedfrom.documents.words import LEGEND
from fedfrom.model.items import Status
from fedfrom.rules.registry import Design

GearSchedule: TypeAlias = PanelSchedule | BoardSchedule


@dataclass(frozen=True, slots=True)
class TableSheet:
    """Tables that follow each other from the top of a sheet."""

    title: str
    tables: tuple[Table, ...]


TABLES: tuple[tuple[str, tuple[Callable[[Design], Table], ...]], ...] = (
    ("SOURCES, FEEDERS AND TRANSFORMERS", (source_table, state_table, feeder_table, transformer_table)),
    ("LOAD SUMMARY", (load_summary, category_summary)),
    ("VOLTAGE DROP", (drop_table,)),
    ("FAULT CURRENT AND RATING CHECK", (fault_table, rating_table)),
    ("GROUNDING AND EQUIPMENT", (grounding_table, equipment_table)),
    ("REVIEW", (findings_table, accepted_table, assumption_table, expectation_table, rule_table)),
)


def gear_schedules(design: Design) -> tuple[GearSchedule, ...]:
    """A schedule for every piece of gear, in source order; not for one that is removed and has nothing left in it."""
    schedules: list[GearSchedule] = []
    for gear in design.results.gear.values():
        rows = design.results.circuits.get(gear.tag, ())
        if gear.status is Status.DEMOLISH and all(row.kind == "space" for row in rows):
            continue
        if has_positions(design, gear):
            schedules.append(panel_schedule(design, gear))
        else:
            schedules.append(board_schedule(design, gear))
    return tuple(schedules)


def table_sheets(design: Design) -> tuple[TableSheet, ...]:
    """The other schedules; tables without a row are left out, sheets without a table too."""
    sheets = []
    for title, makers in TABLES:
        tables = tuple(table for table in (make(design) for make in makers) if table.rows)
        if tables:
            sheets.append(TableSheet(title, tables))
    return tuple(sheets)


def legend_table() -> Table:
    """Abbreviations and units."""
    return Table("ABBREVIATIONS", (text_column("MARK", 1.6), text_column("MEANING", 4.0)), LEGEND)
