"""Factory gear that is no assembly of devices: transformers, generators, transfer switches, drives and starters."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.model.fact_words import fact_words
from fedfrom.model.items import Load, Origin, Status
from fedfrom.passes.bill_lines import count_line, is_listed
from fedfrom.passes.bill_practice import allowance, assumed_facts, bill_class
from fedfrom.passes.bill_words import (
    amperes_words,
    device_words,
    join,
    key_of,
    kilo_words,
    system_words,
    transformer_words,
)
from fedfrom.passes.work import Work
from fedfrom.results.types import BillLine, SourceResult, TransferResult, TransformerResult

# Gear in which motor controllers are units of the assembly, not things of their own.
HOLDS_CONTROLLERS = frozenset({"motor control center", "fire pump controller"})
CONTROLLERS = ("drive", "soft starter", "starter")


def equipment(work: Work) -> Iterator[BillLine]:
    """One line a thing; equal ones are brought together by the caller."""
    for transformer in work.transformers.values():
        yield from _transformer(work, transformer)
    for source in work.sources.values():
        yield from _source(work, source)
    for transfer in work.transfers.values():
        yield from _transfer(work, transfer)
    yield from _controllers(work)


def _stated(work: Work, tag: str, names: tuple[str, ...]) -> str:
    item = work.model.items.get(tag)
    facts = [(name, item.facts.first(name)) for name in names] if item else []
    return join(*(f"{name} {fact_words(fact)}".strip() for name, fact in facts if fact is not None))


def _assumed(work: Work, tag: str, kind: str) -> tuple[str, ...]:
    item = work.model.items.get(tag)
    pairs = assumed_facts(work.edition, kind)
    return tuple(text for name, text in pairs if item is None or item.facts.first(name) is None)


def _transformer(work: Work, item: TransformerResult) -> Iterator[BillLine]:
    if not is_listed(item.status, item.by):
        return
    entry = bill_class(work.edition, "transformer")
    owner = work.model.items.get(item.tag)
    if owner is not None and owner.kind not in {"transformer", item.tag}:
        entry = bill_class(work.edition, owner.kind)
    is_large = item.kva is None or item.kva > allowance(work.edition, "stock_kva")
    kind = "engineered" if is_large else entry.kind
    description = transformer_words(item)
    if owner is not None and owner.kind in {"pdu", "isolated power panel"}:
        description = f"{entry.noun} with {description[0].lower()}{description[1:]}"
    impedance = f"{item.impedance_pct:g} % impedance" if item.impedance_origin is Origin.WRITTEN else ""
    description = join(
        description, impedance, _stated(work, item.tag, ("rise", "taps", "shielded", "winding", "enclosure"))
    )
    volts = [system.literal if system else "" for system in (item.primary, item.secondary)]
    key = key_of("transformer", f"{item.kva:g}kVA" if item.kva is not None else "", *volts, item.k_factor)
    assumed = (*(("rating to be stated",) if item.kva is None else ()), *_assumed(work, item.tag, "transformer"))
    yield count_line(key, entry.section, (item.tag,), description, 1, kind, item.status, assumed)


def _source(work: Work, source: SourceResult) -> Iterator[BillLine]:
    if source.kind == "utility" or not is_listed(source.status, source.by):
        return
    entry = bill_class(work.edition, source.kind)
    main = f"with {device_words(source.main)[0].lower()}{device_words(source.main)[1:]}" if source.main else ""
    rating = source.rating_text or "rating NOT KNOWN"
    bond = f"neutral bond {source.bond}" if source.bond else ""
    description = join(entry.noun, rating, system_words(source.system), main, bond)
    key = key_of(source.kind, rating, source.system.literal if source.system else "")
    assumed = _assumed(work, source.tag, source.kind)
    yield count_line(key, entry.section, (source.tag,), description, 1, entry.kind, source.status, assumed)


def _transfer(work: Work, item: TransferResult) -> Iterator[BillLine]:
    if not is_listed(item.status, item.by):
        return
    entry = bill_class(work.edition, item.kind)
    description = join(
        entry.noun,
        system_words(item.system),
        amperes_words(item.rating_a),
        f"{item.poles}-pole",
        f"{kilo_words(item.withstand_a, 'withstand rating')} withstand and closing",
        f"{item.transition} transition" if item.transition else "",
        f"{item.bypass} bypass" if item.bypass else "",
        f"for {item.system_class} system" if item.system_class else "",
    )
    rating = f"{item.rating_a:g}A" if item.rating_a is not None else ""
    withstand = f"{item.withstand_a / 1000:g}kA" if item.withstand_a is not None else ""
    key = key_of(item.kind, item.system.literal if item.system else "", rating, f"{item.poles}P", withstand)
    missing = ("withstand rating to be established",) if item.withstand_a is None else ()
    assumed = (*missing, *_assumed(work, item.tag, item.kind))
    yield count_line(key, entry.section, (item.tag,), description, 1, entry.kind, item.status, assumed)


def _controllers(work: Work) -> Iterator[BillLine]:
    """Drives and starters that loads state, where they are not units of the gear itself."""
    for tag, gear in work.gear.items():
        item = work.model.items.get(tag)
        if item is None or gear.gear_class in HOLDS_CONTROLLERS:
            continue
        for load in item.loads:
            yield from _controller(work, tag, gear.system.literal if gear.system else "", load)


def _controller(work: Work, tag: str, volts: str, load: Load) -> Iterator[BillLine]:
    for name in CONTROLLERS:
        fact = load.facts.first(name)
        if fact is None or fact.by or load.by or not is_listed(fact.status or load.status, ""):
            continue
        entry = bill_class(work.edition, name)
        is_shaft = load.amount.form == "hp" and load.amount.quantity is not None
        size = f"{load.amount.quantity:g} hp" if is_shaft else ""
        description = join(entry.noun, size, volts, fact_words(fact))
        key = key_of(name, f"{load.amount.quantity:g}hp" if is_shaft else "", volts)
        status = fact.status or load.status or Status.NEW
        reference = load.tag or f"{tag} {load.name}".strip()
        yield count_line(key, entry.section, (reference,), description, load.count, entry.kind, status)
