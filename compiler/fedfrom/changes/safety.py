"""What lowers safety: such changes stand first and are marked."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace

from fedfrom.changes.causes import Pair
from fedfrom.changes.types import Edit
from fedfrom.model.items import Expectation, Model
from fedfrom.quantity import Quantity

# Statements that guard a design, by the beginning of their key: what it means that one is taken out.
_GUARDS = {
    "expect/": "an expectation is taken out",
    "interlock/": "an interlock is taken out",
}
_GUARDS_INSIDE = {
    "/fact/surge device": "surge protection is taken out",
    "/electrode/": "a grounding electrode is taken out",
}
_PROTECTION = re.compile(r"GFCI|GFPE|AFCI|arc energy reduction|shunt trip")


def lowered_by(pair: Pair) -> str:
    """How a change of a computed value lowers safety, "" where it does not."""
    before, after = pair.before, pair.after
    if before is None or after is None:
        return ""
    if before.text != "not known" and after.text == "not known":
        return "no longer known"
    if after.rating and before.number is not None and after.number is not None and after.number < before.number:
        return "rating reduced"
    if after.area == "Overcurrent devices":
        return _protection_lost(before.text, after.text)
    return ""


def _protection_lost(before: str, after: str) -> str:
    if re.search(r"\bLS?I?G\b", before) and not re.search(r"\bLS?I?G\b", after) and after != "none":
        return "ground-fault protection lost"
    lost = sorted(set(_PROTECTION.findall(before)) - set(_PROTECTION.findall(after)))
    if lost:
        return f"{', '.join(lost)} lost"
    return "overcurrent device taken out" if before != "none" and after == "none" else ""


def marked(edit: Edit, old: Model, new: Model) -> Edit:
    """An edit with the way in which it lowers safety, if it does."""
    return replace(edit, lowers=_edit_lowers(edit, old, new))


def _edit_lowers(edit: Edit, old: Model, new: Model) -> str:
    key = edit.keys[0]
    if edit.gone:
        inside = next((why for part, why in _GUARDS_INSIDE.items() if part in key), "")
        return inside or next((why for start, why in _GUARDS.items() if key.startswith(start)), "")
    if key.startswith("accept/"):
        return "a finding is accepted"
    if key.startswith("expect/") and edit.fields & {"value", "compare"}:
        return _loosened(key, old, new)
    if key.startswith("defaults/series") and not new.defaults.series_rated_forbidden:
        return "series ratings are no longer forbidden"
    if key.startswith("defaults/drop"):
        return "a voltage drop limit is raised" if _drop_limits_raised(old, new) else ""
    return ""


def _loosened(key: str, old: Model, new: Model) -> str:
    before, after = _expected(old, key), _expected(new, key)
    if before is None or after is None:
        return ""
    less = float(after) < float(before)
    return "an expectation is loosened" if less == key.endswith("/low") and float(after) != float(before) else ""


def _expected(model: Model, key: str) -> Quantity | None:
    for expect in model.expectations:
        if _expect_key(expect) == key and isinstance(expect.value, Quantity):
            return expect.value
    return None


def _expect_key(expect: Expectation) -> str:
    return f"expect/{expect.measure}/{expect.subject}/{'low' if '>' in expect.compare else 'high'}"


def _drop_limits_raised(old: Model, new: Model) -> bool:
    """Whether one of the three limits is greater, or no longer stated."""
    for name in ("drop_feeder_pct", "drop_branch_pct", "drop_total_pct"):
        before, after = getattr(old.defaults, name), getattr(new.defaults, name)
        if before is not None and (after is None or after.value > before.value):
            return True
    return False


def finding_lowers(kind: str, severity: str) -> str:
    """How a finding that came or was accepted lowers safety."""
    if kind == "accepted":
        return "a finding is accepted"
    if kind == "gained" and severity == "error":
        return "a new error"
    return "no longer checked" if kind == "gained" and severity == "not checked" else ""


def assumptions_gained(old: Model, new: Model, names: Mapping[str, str]) -> list[tuple[str, str, str]]:
    """(subject, what, reason) of values that are now assumed on things that were there before."""
    before = {(names.get(each.subject, each.subject), each.what) for each in old.assumptions}
    there = {names.get(tag, tag) for tag in old.items}
    return [
        (each.subject, each.what, each.reason)
        for each in new.assumptions
        if (each.subject, each.what) not in before and each.subject in there
    ]
