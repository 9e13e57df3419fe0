"""The class decision: load center, panelboard or switchboard, with reasons that a customer understands.

Every class is held against the same facts; the lightest one without an objection is taken for `gear`. For a pinned one
the same objections become findings (`rules/class_limits.py`). Limits: practice table `gear_classes`; words: practice
table `class_sentences`.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from fedfrom.model.items import Item, Origin
from fedfrom.passes.class_limits import CLASSES, Measure, class_limits, measure
from fedfrom.passes.gear_facts import GearFacts, gather
from fedfrom.passes.work import Work
from fedfrom.results.assembly import ClassMeasure
from fedfrom.results.derivation import Derivation, Input, Rejected, Step
from fedfrom.results.notation import amperes_text, kiloamperes_text
from fedfrom.results.types import ClassVerdict
from fedfrom.tables import Edition

OPEN_KIND = "gear"
MOST_NEAR_MISSES = 2


@dataclass(frozen=True, slots=True)
class ClassDecision:
    """The class kept, one verdict for each class, and the sentences for the kept one."""

    gear_class: str
    origin: Origin
    why: tuple[str, ...]
    verdicts: tuple[ClassVerdict, ...]
    facts: GearFacts | None


@dataclass(frozen=True, slots=True)
class Objection:
    """A limit that is passed: the sentence, what would let it fit, and the measure behind it."""

    sentence: str
    near_miss: str
    measure: Measure


def decide(work: Work, item: Item) -> ClassDecision:
    """The class of a piece of gear; other kinds than the three (and open gear) keep their own."""
    if item.kind not in (*CLASSES, OPEN_KIND):
        return ClassDecision(item.kind, Origin.WRITTEN, (), (), None)
    facts = gather(work, item)
    verdicts = tuple(_verdict(work.edition, facts, name) for name in CLASSES)
    if item.kind == OPEN_KIND:
        kept = _lightest(work.edition, facts, verdicts)
        origin = Origin.CHOSEN
    else:
        kept = next(verdict for verdict in verdicts if verdict.gear_class == item.kind)
        origin = Origin.WRITTEN
    why = _why(work.edition, facts, kept, verdicts, origin)
    return ClassDecision(kept.gear_class, origin, why, verdicts, facts)


def objections(edition: Edition, facts: GearFacts, gear_class: str) -> tuple[Objection, ...]:
    """Every limit of a class that the facts pass, published bounds first, then by hardness."""
    found = [entry for entry in measure(edition, facts, gear_class) if not entry.kept]
    found.sort(key=lambda entry: entry.bound.severity != "error")
    return tuple(
        Objection(_words(edition, entry, gear_class, "reason"), _words(edition, entry, gear_class, "near_miss"), entry)
        for entry in found
    )


def _verdict(edition: Edition, facts: GearFacts, gear_class: str) -> ClassVerdict:
    against = objections(edition, facts, gear_class)
    measures = tuple(_for_readers(edition, entry) for entry in measure(edition, facts, gear_class))
    spans = tuple(entry.measure.span for entry in against if entry.measure.span is not None)
    if not against:
        fits = tuple(_fits(edition, entry, gear_class) for entry in measure(edition, facts, gear_class) if entry.kept)
        return ClassVerdict(gear_class, True, fits, spans=spans, measures=measures)
    near = ""
    if len(against) <= MOST_NEAR_MISSES:
        near = f"{_a(gear_class)} would fit if {' and '.join(entry.near_miss for entry in against)}."
    return ClassVerdict(gear_class, False, tuple(entry.sentence for entry in against), near, spans, measures)


def _for_readers(edition: Edition, entry: Measure) -> ClassMeasure:
    """A measure in words, with where its limit comes from."""
    bound = entry.bound
    limit = entry.limit if bound.severity or not entry.kept else ""
    label = _sentences(edition)[entry.criterion]["label"]
    return ClassMeasure(
        entry.criterion, label, entry.kept, entry.value, limit, bound.severity, bound.source or bound.status
    )


def _lightest(edition: Edition, facts: GearFacts, verdicts: tuple[ClassVerdict, ...]) -> ClassVerdict:
    """The lightest class that fits; where none does, the one with the fewest published bounds and limits passed.

    Where two are equally far off it is the heavier one: a special order begins there.
    """
    fitting = next((verdict for verdict in verdicts if verdict.fits), None)
    if fitting is not None:
        return fitting

    def cost(verdict: ClassVerdict) -> tuple[int, int]:
        against = objections(edition, facts, verdict.gear_class)
        return sum(entry.measure.bound.severity == "error" for entry in against), len(against)

    return min(reversed(verdicts), key=cost)


def _why(
    edition: Edition, facts: GearFacts, kept: ClassVerdict, verdicts: tuple[ClassVerdict, ...], origin: Origin
) -> tuple[str, ...]:
    """The sentences for the kept class: what rules the lighter ones out, what it has, how it is built."""
    lines = []
    for verdict in verdicts:
        if verdict.gear_class == kept.gear_class:
            break
        if verdict.fits and origin is Origin.WRITTEN:
            lines.append(
                f"{_a(verdict.gear_class)} would fit too; {_a(kept.gear_class).lower()} is what was asked for."
            )
        else:
            lines.append(verdict.reasons[0])
    if kept.fits:
        lines.append(_summary(edition, facts, kept))
    else:
        lines.extend(kept.reasons)
        if kept.near_miss:
            lines.append(kept.near_miss)
    lines.append(_build(edition, facts, kept.gear_class))
    if facts.incomplete:
        lines.append("Some devices are not known yet; they may change the class.")
    if facts.fault_a is None and not (facts.system is not None and facts.system.is_dc):
        lines.append("The available fault current is not known yet; it may change the class.")
    return tuple(lines)


def _summary(edition: Edition, facts: GearFacts, kept: ClassVerdict) -> str:
    parts = []
    if facts.main_a is not None:
        limit = class_limits(edition, kept.gear_class)["main_max_a"].number
        parts.append(f"mains of {amperes_text(facts.main_a)} (it is made to {amperes_text(limit)})")
    if facts.system is not None:
        parts.append(facts.system.literal)
    largest = max((branch.amperes for branch in facts.branches), default=None)
    if largest is not None:
        parts.append(f"branch devices to {amperes_text(largest)}")
    if facts.fault_a is not None:
        parts.append(f"{kiloamperes_text(facts.fault_a)} available")
    if facts.enclosure:
        parts.append(f"Type {facts.enclosure} enclosure")
    return f"{_a(kept.gear_class)} fits: {', '.join(parts)}." if parts else f"{_a(kept.gear_class)} fits."


def _build(edition: Edition, facts: GearFacts, gear_class: str) -> str:
    limits = class_limits(edition, gear_class)
    stock = limits.get("stock_main_max_a")
    plain = facts.enclosure in ("", "1") and facts.main_a is not None
    if stock is not None and plain and facts.main_a is not None and facts.main_a <= stock.number:
        return f"{_a(gear_class)} of this size is sold from stock or {limits['build'].value}."
    return f"{_a(gear_class)} is sold {limits['build'].value}."


@cache
def _sentences(edition: Edition) -> dict[str, dict[str, str]]:
    return {row["criterion"]: row for row in edition.rows("class_sentences")}


def _words(edition: Edition, entry: Measure, gear_class: str, column: str) -> str:
    row = _sentences(edition)[entry.criterion]
    template = row[column]
    if entry.limit.startswith("0 "):
        template = row[{"reason": "reason_none", "near_miss": "near_none"}.get(column, column)] or template
    return template.format(value=entry.value, limit=entry.limit, what=entry.what, **{"class": gear_class})


def _fits(edition: Edition, entry: Measure, gear_class: str) -> str:
    return f"{_a(gear_class)} has {_words(edition, entry, gear_class, 'fits')}."


def _a(gear_class: str) -> str:
    return f"A {gear_class}"


def class_derivation(item: Item, decision: ClassDecision) -> Derivation:
    """The decision as a derivation, subject "TAG.class"."""
    facts = decision.facts
    inputs = []
    if facts is not None and facts.main_a is not None:
        inputs.append(Input("", f"mains, {facts.main_what}", amperes_text(facts.main_a), span=facts.main_span))
    if facts is not None and facts.system is not None:
        inputs.append(Input("", "system", facts.system.literal))
    if facts is not None and facts.fault_a is not None:
        inputs.append(Input("", "available fault current", kiloamperes_text(facts.fault_a)))
    steps = tuple(Step("", line, "") for line in decision.why)
    rejected = tuple(
        Rejected(verdict.gear_class, " ".join((*verdict.reasons, verdict.near_miss)).strip())
        for verdict in decision.verdicts
        if not verdict.fits and verdict.gear_class != decision.gear_class
    )
    return Derivation(
        subject=f"{item.tag}.class",
        title=f"Class of {item.tag}",
        value=decision.gear_class,
        origin=decision.origin,
        inputs=tuple(inputs),
        steps=steps,
        clause="practice table of gear classes: published bounds and common practice, status by row",
        rejected=rejected,
        span=item.tag_span,
    )
