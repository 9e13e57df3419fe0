"""What the comparison sheet shows: full sheets where there was a choice or a misfit, a line for all others."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fedfrom.documents.words import CAUTION_TEXT
from fedfrom.model.items import Origin
from fedfrom.results.assembly import ClassMeasure
from fedfrom.results.types import ClassVerdict, GearResult
from fedfrom.rules.registry import Design

PLANNING_MARK = "*"
# Criteria whose limit is a list to choose from, not a largest value.
# What counts as a large device is another size in each class, so the number stands in the cell.
COUNTED_BY_CLASS = frozenset({"large_devices"})
ONE_OF = frozenset({"enclosure", "device_mounting", "access", "mounting"})


@dataclass(frozen=True, slots=True)
class Choice:
    """One piece of gear: its facts in a line, the sentences for the class kept, and one row a criterion.

    `rows`: criterion, then a cell for each class; the last row is the outcome. `near` what would let other classes fit.
    """

    tag: str
    title: str
    gear_class: str
    how: str
    why: tuple[str, ...]
    classes: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    near: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Brief:
    """A piece of gear whose class is written and fits: a line is enough."""

    tag: str
    title: str
    gear_class: str
    remark: str


@dataclass(frozen=True, slots=True)
class LimitLine:
    """A limit that was used, and what it stands on."""

    gear_class: str
    criterion: str
    limit: str
    standing: str
    source: str


@dataclass(frozen=True, slots=True)
class Comparison:
    """The whole document."""

    project: str
    number: str
    code: str
    caution: str
    choices: tuple[Choice, ...]
    briefs: tuple[Brief, ...]
    limits: tuple[LimitLine, ...]


def comparison(design: Design) -> Comparison:
    """The comparison of a design, in source order."""
    info = design.results.project
    gear = [
        each
        for each in design.results.gear.values()
        if any(verdict.gear_class == each.gear_class for verdict in each.verdicts)
    ]
    full = [each for each in gear if each.class_origin is Origin.CHOSEN or not _kept(each).fits]
    return Comparison(
        info.title or "Project not named",
        info.number,
        info.code,
        CAUTION_TEXT,
        tuple(_choice(each) for each in full),
        tuple(_brief(each) for each in gear if each not in full),
        tuple(_limits(gear)),
    )


def _kept(gear: GearResult) -> ClassVerdict:
    return next(verdict for verdict in gear.verdicts if verdict.gear_class == gear.gear_class)


def _choice(gear: GearResult) -> Choice:
    how = "chosen: the lightest class that fits" if gear.class_origin is Origin.CHOSEN else "as written in the design"
    if not _kept(gear).fits:
        how = f"{how}, but past a limit of its class"
        if gear.class_origin is Origin.CHOSEN:
            how = "no class fits every fact; this one comes nearest"
    near = tuple(verdict.near_miss for verdict in gear.verdicts if verdict.near_miss)
    return Choice(
        gear.tag,
        gear.title,
        gear.gear_class,
        how,
        gear.why,
        tuple(verdict.gear_class for verdict in gear.verdicts),
        tuple(_rows(gear)),
        near,
    )


def _rows(gear: GearResult) -> Iterator[tuple[str, ...]]:
    """Criteria in their order; "mounting" and "floor" are one row, as they ask the same."""
    held = [{_row_of(entry): entry for entry in verdict.measures} for verdict in gear.verdicts]
    labels: dict[str, str] = {}
    for verdict in gear.verdicts:
        for entry in verdict.measures:
            shown = entry.value if entry.criterion not in COUNTED_BY_CLASS else ""
            labels.setdefault(_row_of(entry), f"{entry.label}: {shown}" if shown else entry.label)
    for criterion, label in labels.items():
        yield (label, *(_cell(entries.get(criterion)) for entries in held))
    yield ("Outcome", *(_outcome(gear, verdict) for verdict in gear.verdicts))


def _row_of(entry: ClassMeasure) -> str:
    return "mounting" if entry.criterion == "floor" else entry.criterion


def _cell(entry: ClassMeasure | None) -> str:
    if entry is None:
        return ""
    mark = PLANNING_MARK if entry.severity == "warning" else ""
    bare = not entry.limit or entry.limit.startswith("0 ")
    if _row_of(entry) in ONE_OF:
        if entry.kept:
            return f"yes{mark}"
        return f"no{mark}" if bare else f"no, {entry.limit} only{mark}"
    if entry.criterion in COUNTED_BY_CLASS:
        return f"{'yes' if entry.kept else 'no'}, {entry.value} here" + (
            f", {entry.limit} fit{mark}" if not bare else ""
        )
    if entry.kept:
        return f"yes{mark}" if bare else f"yes, to {entry.limit}{mark}"
    return f"no{mark}" if bare else f"no, stops at {entry.limit}{mark}"


def _outcome(gear: GearResult, verdict: ClassVerdict) -> str:
    if verdict.gear_class == gear.gear_class:
        return "kept" if verdict.fits else "kept, past a limit"
    return "would fit too" if verdict.fits else "ruled out"


def _brief(gear: GearResult) -> Brief:
    lighter = []
    for verdict in gear.verdicts:
        if verdict.gear_class == gear.gear_class:
            break
        if verdict.fits:
            lighter.append(verdict.gear_class)
    ahead = [verdict for verdict in gear.verdicts[: _place(gear)] if not verdict.fits]
    remark = f"a {lighter[0]} would fit too" if lighter else "no lighter class fits"
    if ahead and not lighter:
        reason = ahead[-1].reasons[0].removesuffix(".")
        remark = f"no lighter class fits: {reason[:1].lower()}{reason[1:]}"
    if gear.gear_class == gear.verdicts[0].gear_class:
        remark = "the lightest class"
    return Brief(gear.tag, gear.title, gear.gear_class, remark)


def _place(gear: GearResult) -> int:
    """Where the class of gear stands in the order of classes, the lightest first."""
    return next(index for index, verdict in enumerate(gear.verdicts) if verdict.gear_class == gear.gear_class)


def _limits(gear: Sequence[GearResult]) -> Iterator[LimitLine]:
    """Every limit that some fact was held against, once; class by class in the order of the criteria."""
    seen: dict[tuple[str, str], LimitLine] = {}
    for each in gear:
        for verdict in each.verdicts:
            for entry in verdict.measures:
                if not entry.severity:
                    continue
                standing = "published bound" if entry.severity == "error" else "planning limit, makers differ"
                limit = entry.limit or ("has it" if entry.kept else "has none")
                key = (verdict.gear_class, entry.criterion)
                seen.setdefault(key, LimitLine(verdict.gear_class, entry.label, limit, standing, entry.source))
    order = {name: place for place, name in enumerate(("load center", "panelboard", "switchboard"))}
    yield from sorted(seen.values(), key=lambda line: order.get(line.gear_class, len(order)))
