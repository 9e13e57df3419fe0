"""`loads from "file.csv"`: each row of a sender's table becomes a plain load line of the gear that it goes to."""

from __future__ import annotations

from fedfrom.model.expand_lines import Describer
from fedfrom.model.expand_project import ParsedProject
from fedfrom.model.expand_report import Report
from fedfrom.syntax.tree import Statement


def import_loads(
    statements: list[Statement], project: ParsedProject, describer: Describer, report: Report
) -> list[Statement]:
    return statements
