"""Changes as a reader gets them: those that are alike together, the same reason said once."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from fedfrom.changes.types import Change

# Figures of many places that move together: a range says as much as a list.
_IN_RANGES = frozenset({"Fault current", "Voltage drop"})
_NUMBER = re.compile(r"(-?\d+(?:\.\d+)?)(.*)")
MOST_LABELS = 6
FEWEST_IN_RANGE = 4


def grouped(changes: Iterable[Change]) -> tuple[Change, ...]:
    """One change for values that changed alike for one reason, in the order of the first of each."""
    groups: dict[tuple[object, ...], list[Change]] = {}
    for change in changes:
        groups.setdefault(_alike(change), []).append(change)
    told: list[Change] = []
    for group in groups.values():
        few = len(group) < FEWEST_IN_RANGE and len({(each.before, each.after) for each in group}) > 1
        told += group if few else [_one(group)]
    return tuple(told)


def _alike(change: Change) -> tuple[object, ...]:
    if change.kind != "changed":
        return (change.key,)
    last = change.because[-1] if change.because else None
    values: tuple[str, ...] = () if change.area in _IN_RANGES else (change.before, change.after)
    up = change.area in _IN_RANGES and _value(change.after) > _value(change.before)
    return (change.area, kind_of(change.key), values, last, change.lowers, up)


def kind_of(key: str) -> str:
    """What a value is, whatever it belongs to."""
    first = key.partition("/")[0]
    return first if first in ("load", "fault") else f"{first} {key.rpartition('/')[2]}"


def _one(group: list[Change]) -> Change:
    labels = tuple(dict.fromkeys(label for change in group for label in change.labels))
    edits = tuple(sorted({number for change in group for number in change.edits}))
    shortest = min(group, key=lambda change: len(change.because))
    before, after = (_range([getattr(change, side) for change in group]) for side in ("before", "after"))
    return replace(group[0], labels=labels, edits=edits, because=shortest.because, before=before, after=after)


def _range(texts: list[str]) -> str:
    """ "6.4 to 19.0 kA"; the text itself where all are the same."""
    if len(set(texts)) == 1:
        return texts[0]
    numbers = sorted((_value(text), text) for text in texts)
    least = _NUMBER.sub(r"\1", numbers[0][1])
    return f"{least} to {numbers[-1][1]}"


def _value(text: str) -> float:
    found = _NUMBER.match(text)
    return float(found.group(1)) if found else 0.0


def joined(labels: tuple[str, ...]) -> str:
    """Several labels in one: what they begin with is said once, and no more than a few are named."""
    if len(labels) == 1:
        return labels[0]
    words = [label.split(" ") for label in labels]
    start = 0
    while all(len(each) > start + 1 and each[start] == words[0][start] for each in words):
        start += 1
    end = 0
    while all(len(each) > start + end + 1 and each[-1 - end] == words[0][-1 - end] for each in words):
        end += 1
    heads, tails = words[0][:start], words[0][len(words[0]) - end :]
    names = [" ".join(each[start : len(each) - end]) for each in words]
    shown = ", ".join(names[:MOST_LABELS]) + (
        f" and {len(names) - MOST_LABELS} more" if len(names) > MOST_LABELS else ""
    )
    return " ".join([*heads, shown, *tails])
