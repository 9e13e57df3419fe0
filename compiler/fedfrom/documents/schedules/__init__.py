"""The schedules: a sheet for each piece of gear, then feeders, transformers, loads, drop, faults, ratings, review.

Input: `Design`. Output: `schedules.pdf` (11x17) and `schedules.xlsx`, from the same views.
"""

from __future__ import annotations

from collections.abc import Mapping

from fedfrom.documents.registry import Output
from fedfrom.rules.registry import Design


def write(design: Design) -> Mapping[str, bytes]:
    from fedfrom.documents.schedules.pdf import schedules_pdf
    from fedfrom.documents.schedules.xlsx import schedules_xlsx

    return {"schedules.pdf": schedules_pdf(design), "schedules.xlsx": schedules_xlsx(design)}


OUTPUT = Output("schedules", "Schedules (11x17 sheets and workbook)", ("schedules.pdf", "schedules.xlsx"), write)
