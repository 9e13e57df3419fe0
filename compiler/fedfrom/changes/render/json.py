"""A comparison for programs: every change by itself, with a schema version."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any

from fedfrom.changes.types import Cause, Difference

SCHEMA_VERSION = 1


def render(difference: Difference) -> str:
    """One JSON object; the order of every list is that of the written forms."""
    document = {
        "version": SCHEMA_VERSION,
        "old": difference.old,
        "new": difference.new,
        "same": difference.same,
        "lowers_safety": difference.lowering,
        "renames": [asdict(each) for each in difference.renames],
        "edits": [
            {
                "number": number,
                "text": edit.text,
                "place": edit.place,
                "gone": edit.gone,
                "count": edit.count,
                "lowers": edit.lowers,
            }
            for number, edit in enumerate(difference.edits, 1)
        ],
        "changes": [
            {
                "key": each.key,
                "area": each.area,
                "what": ", ".join(each.labels),
                "subject": each.subject,
                "kind": each.kind,
                "before": each.before or None,
                "after": each.after or None,
                "because": _chain(each.because),
                "edits": list(each.edits),
                "lowers": each.lowers,
            }
            for each in difference.changes
        ],
        "findings": [{**asdict(each), "because": _chain(each.because)} for each in difference.findings],
        "bill": [{**asdict(each), "because": _chain(each.because)} for each in difference.bill],
        "sheets": [asdict(each) for each in difference.sheets],
        "minor": difference.minor,
    }
    return json.dumps(document, indent=2, ensure_ascii=False) + "\n"


def _chain(causes: tuple[Cause, ...]) -> list[dict[str, Any]]:
    return [{"text": cause.text, "place": cause.place or None} for cause in causes]
