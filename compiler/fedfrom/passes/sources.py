"""The sources pass: what utilities and generators deliver, and what transfer equipment must withstand."""

from __future__ import annotations

import math
from dataclasses import replace

from fedfrom.formulas.impedance import x_over_r
from fedfrom.graph.network import Node
from fedfrom.model.fact_reading import amount, option_amount, ratio, words
from fedfrom.model.items import Fact, Item, Origin, Status
from fedfrom.passes.place import place_of
from fedfrom.passes.practice import smallest_rating, typical_impedance
from fedfrom.passes.source_impedance import generator_va, source_impedance
from fedfrom.passes.work import Pass, Work
from fedfrom.quantity import Dimension
from fedfrom.results.types import SourceResult, TransferResult, TransformerResult


def run(work: Work) -> Work:
    """Fill `sources` and complete `transfers`."""
    sources = {tag: _source(work, node) for tag, node in work.network.nodes.items() if node.role == "source"}
    transfers = {tag: _transfer(work, result) for tag, result in work.transfers.items()}
    return replace(work, sources=sources, transfers=transfers)


def _source(work: Work, node: Node) -> SourceResult:
    item = node.item
    known = source_impedance(work.edition, node)
    fault = work.worst_fault(item.tag)
    load = work.node_load(item.tag)
    basis = "; ".join((known.basis, *known.notes)) if known.z1 is not None else f"not known: needs {known.needs}"
    place = place_of(work.model, item)
    return SourceResult(
        tag=item.tag,
        title=item.title,
        kind=item.kind,
        system=node.system,
        rating_va=_rating_va(work, item),
        rating_text=_rating_text(item),
        fault_a=_own_fault(node, known.z1) if known.z1 is not None and fault is not None else None,
        x_over_r=x_over_r(known.z1) if known.z1 is not None else None,
        basis=basis,
        assumed=known.assumed,
        main=work.mains.get(item.tag),
        transformer=_utility_transformer(work, node) if item.kind == "utility" else None,
        demand_a=load.demand_a if load is not None and load.complete else None,
        bond=" ".join(words(item.facts.first("bond"))),
        place=place.text if place is not None else "",
        status=item.status,
        by=item.by or ("utility" if item.kind == "utility" else ""),
        span=item.tag_span,
    )


def _rating_va(work: Work, item: Item) -> float | None:
    fact = item.facts.first("rating")
    if item.kind == "utility":
        return None
    if item.kind in ("pv", "battery"):
        return amount(fact, Dimension.APPARENT) or amount(fact, Dimension.REAL)
    return generator_va(work.edition, fact)


def _own_fault(node: Node, z1: complex) -> float | None:
    """Fault current of the source alone at its terminals (line to line on a single-phase system), A."""
    system = node.system
    if system is None or z1 == 0:
        return None
    divisor = math.sqrt(3) if system.phases == 3 else 2.0
    return system.line_to_line_v / (divisor * abs(z1))


def _rating_text(item: Item) -> str:
    fact = item.facts.first("rating")
    for dimension, unit, scale in (
        (Dimension.REAL, "kW", 1000.0),
        (Dimension.APPARENT, "kVA", 1000.0),
        (Dimension.CURRENT, "A", 1.0),
    ):
        value = amount(fact, dimension)
        if value is not None:
            return f"{value / scale:g} {unit}"
    return ""


def _utility_transformer(work: Work, node: Node) -> TransformerResult | None:
    """The utility's own transformer, for the one-line: drawn, never bought."""
    item, system = node.item, node.system
    fact = item.facts.first("transformer")
    rating = amount(fact, Dimension.APPARENT)
    if fact is None or rating is None or system is None:
        return None
    typical = typical_impedance(work.edition, rating / 1000, system.phases or 1, utility=True)
    percent, written_ratio = option_amount(fact, "impedance", Dimension.PERCENT), ratio(fact)
    factor = math.sqrt(3) if system.phases == 3 else 1.0
    primary_v = amount(item.facts.first("primary"), Dimension.VOLTAGE)
    return TransformerResult(
        tag=f"{item.tag}-T",
        title="utility transformer",
        kva=rating / 1000,
        kva_origin=Origin.WRITTEN,
        primary=None,
        secondary=system,
        connection=_connection(fact),
        impedance_pct=percent if percent is not None else (typical.percent if typical else None),
        impedance_origin=Origin.WRITTEN if percent is not None else Origin.CHOSEN,
        x_over_r=written_ratio if written_ratio is not None else (typical.x_over_r if typical else None),
        k_factor="",
        primary_a=rating / (factor * primary_v) if primary_v else None,
        secondary_a=rating / (factor * system.line_to_line_v),
        primary_device=None,
        secondary_device=None,
        loading_pct=_loading(work, item.tag, rating),
        fault_primary_a=None,
        fault_secondary_a=None,
        fed_from=item.tag,
        status=item.status,
        by="utility",
        span=fact.span,
    )


def _connection(fact: Fact) -> str:
    return next((word for word in words(fact) if "-" in word or "wye" in word), "")


def _loading(work: Work, tag: str, rating_va: float) -> float | None:
    load = work.node_load(tag)
    return 100.0 * load.demand_va / rating_va if load is not None and load.complete else None


def _transfer(work: Work, result: TransferResult) -> TransferResult:
    """Fault at the switch, and its withstand and closing rating: written, or the smallest usual one that suffices."""
    node = work.network.nodes.get(result.tag)
    fault = work.worst_fault(result.tag)
    if node is None:
        return result
    facts = node.item.facts
    written = amount(facts.first("withstand"), Dimension.CURRENT) or amount(facts.first("sccr"), Dimension.CURRENT)
    withstand = written
    if fault is not None:
        result = replace(result, fault_a=fault.greatest_a, fault_state=fault.state)
        if written is None and result.system is not None and node.item.status is Status.NEW:
            volts = result.system.line_to_line_v
            withstand = smallest_rating(work.edition, "gear_short_circuit_ratings", volts, fault.greatest_a)
    place = place_of(work.model, node.item)
    return replace(result, withstand_a=withstand, place=place.text if place is not None else result.place)


PASS = Pass(
    "sources",
    needs=frozenset({"faults", "loads", "transfers", "mains"}),
    gives=frozenset({"sources", "transfers"}),
    run=run,
)
