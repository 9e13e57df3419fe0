"""`compare(old, new) -> Difference`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Set
from dataclasses import replace

from fedfrom.changes.bill import bill_changes
from fedfrom.changes.causes import Causes, Pair
from fedfrom.changes.edits import edits
from fedfrom.changes.facts import facts
from fedfrom.changes.findings import finding_changes
from fedfrom.changes.names import Naming
from fedfrom.changes.renames import renames
from fedfrom.changes.safety import lowered_by, marked
from fedfrom.changes.sheets import sheet_changes
from fedfrom.changes.types import Change, Difference, Edit, FindingChange, Rename, Side

AREAS = (
    "Supply",
    "Gear",
    "Transformers",
    "Ratings",
    "Overcurrent devices",
    "Conductors",
    "Grounding",
    "Loads",
    "Fault current",
    "Voltage drop",
    "Circuit positions",
)
ADDED, REMOVED = "Added", "Taken out"


def compare(old: Side, new: Side) -> Difference:
    """All that differs between two computed designs, with causes. The same two sides always give the same result."""
    names = renames(old.model, new.model)
    found, moved = edits(old, new, names)
    written = tuple(marked(edit, old.model, new.model) for edit in found)
    naming_old, naming_new = Naming(old, names, moved), Naming(new, {})
    before, after = facts(naming_old), facts(naming_new)
    pairs = {key: Pair(before.get(key), after.get(key)) for key in {**after, **before}}
    causes = Causes(pairs, written)
    changes = [*_whole_items(old, new, names, causes), *_values(old, new, names, causes)]
    found_findings = finding_changes(old, new, names, causes)
    return Difference(
        old.name,
        new.name,
        tuple(Rename(one, other, new.place(new.model.items[other].tag_span)) for one, other in names.items()),
        _marked_once(written, found_findings),
        tuple(sorted(changes, key=lambda change: (not change.lowers, _rank(change.area)))),
        found_findings,
        bill_changes(naming_old, naming_new, causes),
        sheet_changes(old, new, {_tag(change.subject) for change in changes}),
        sum(1 for pair in pairs.values() if pair.any_side.area and pair.shows and pair.is_minor),
    )


def _marked_once(written: tuple[Edit, ...], findings: tuple[FindingChange, ...]) -> tuple[Edit, ...]:
    """An `accept` whose finding is shown as accepted is not marked a second time."""
    accepted = {each.rule for each in findings if each.kind == "accepted"}
    return tuple(
        replace(edit, lowers="")
        if edit.keys[0].startswith("accept/") and edit.keys[0].split("/")[1] in accepted
        else edit
        for edit in written
    )


def _rank(area: str) -> int:
    order = (ADDED, REMOVED, *AREAS)
    return order.index(area) if area in order else len(order)


def _tag(subject: str) -> str:
    return subject.partition(".")[0]


# --- items and circuits that are new or gone: one change each --------------------------------------------------------


def _owner(key: str) -> str:
    """What a value belongs to: "DP1" for an item and its feeder, "circuit/DP1/BW-1" for a circuit."""
    if key.startswith("circuit/"):
        return key.rpartition("/")[0]
    return key.split("/")[1].partition(".")[0]


def _one_sided(pairs: Mapping[str, Pair], old: Side, new: Side, names: Mapping[str, str]) -> dict[str, list[str]]:
    """The keys of the values of every item and circuit that only one side has, by owner."""
    there = {names.get(tag, tag) for tag in (*old.model.items, *(tie.tag for tie in old.model.ties))}
    here = {*new.model.items, *(tie.tag for tie in new.model.ties)}
    owners: dict[str, list[str]] = {}
    for key, pair in pairs.items():
        if pair.before is None or pair.after is None:
            owner = _owner(key)
            if _row_of_one_sided(owner, there & here):
                continue
            if owner.startswith("circuit/") or owner not in (there & here):
                owners.setdefault(owner, []).append(key)
    return {
        owner: keys
        for owner, keys in owners.items()
        if not (owner.startswith("circuit/") and owner.split("/")[1] not in (there & here))
        and _whole(owner, keys, pairs)
    }


def _whole(owner: str, keys: list[str], pairs: Mapping[str, Pair]) -> bool:
    """Whether nothing of the owner is on both sides."""
    del keys
    if not owner.startswith("circuit/"):
        return True
    return not any(
        pair.before is not None and pair.after is not None
        for key, pair in pairs.items()
        if key.rpartition("/")[0] == owner
    )


def _row_of_one_sided(owner: str, both: Set[str]) -> bool:
    """Whether it is the place of a feeder whose load is new or gone: told with the load."""
    _, _, row = owner.partition("/feeder ")
    return bool(row) and row.partition(".")[0] not in both


def _whole_items(old: Side, new: Side, names: Mapping[str, str], causes: Causes) -> Iterator[Change]:
    for owner, keys in _one_sided(causes.pairs, old, new, names).items():
        shown = [causes.pairs[key] for key in keys if causes.pairs[key].any_side.area]
        if not shown:
            continue
        is_new = shown[0].before is None
        texts = [_short(pair, owner) for pair in shown]
        text = "; ".join(dict.fromkeys(text for text in texts if text and "not known" not in text))
        because, numbers = causes.chain(keys[0])
        label = _circuit_label(shown) if owner.startswith("circuit/") else owner
        yield Change(
            owner,
            ADDED if is_new else REMOVED,
            (label,),
            shown[0].any_side.subject,
            "added" if is_new else "removed",
            "" if is_new else text,
            text if is_new else "",
            because,
            numbers,
        )


def _circuit_label(shown: list[Pair]) -> str:
    return next(
        (p.any_side.label for p in shown if p.any_side.area in ("Circuit positions", "Conductors")),
        shown[0].any_side.label,
    )


def _short(pair: Pair, owner: str) -> str:
    """A value of a new item in a few words: "demand 21.7 A", "bus 100 A Al"."""
    fact = pair.any_side
    if fact.area in ("Circuit positions", "Conductors", "Supply"):
        return fact.text
    label = fact.label
    if fact.text == "none" or (fact.area in ("Ratings", "Voltage drop") and fact.key.startswith("feeder/")):
        return ""
    if owner.startswith("circuit/"):
        if fact.area == "Voltage drop":
            return f"drop {fact.text}"
        return "" if fact.area == "Ratings" else fact.text
    return f"{label.replace(f'{owner} ', '').replace(f' to {owner}', '').replace(f' at {owner}', '')} {fact.text}"


# --- values ----------------------------------------------------------------------------------------------------------


def _values(old: Side, new: Side, names: Mapping[str, str], causes: Causes) -> Iterator[Change]:
    whole = _one_sided(causes.pairs, old, new, names)
    there = {names.get(tag, tag) for tag in old.model.items} & set(new.model.items)
    ties = {tie.tag for tie in old.model.ties} & {tie.tag for tie in new.model.ties}
    for key, pair in causes.pairs.items():
        fact, owner = pair.any_side, _owner(key)
        inside_new = owner.startswith("circuit/") and owner.split("/")[1] not in there
        if not fact.area or not pair.shows or pair.is_minor or owner in whole or inside_new:
            continue
        if _row_of_one_sided(owner, there) and (pair.before is None or pair.after is None):
            continue
        if not owner.startswith("circuit/") and owner not in there | ties:
            continue
        because, numbers = causes.chain(key)
        kind = "added" if pair.before is None else "removed" if pair.after is None else "changed"
        yield Change(
            key,
            fact.area,
            (fact.label,),
            fact.subject,
            kind,
            pair.before.text if pair.before else "",
            pair.after.text if pair.after else "",
            because,
            numbers,
            lowered_by(pair),
        )
