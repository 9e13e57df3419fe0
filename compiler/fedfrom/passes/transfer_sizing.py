"""Ratings of transfer switches, UPS and maintenance bypasses."""

from __future__ import annotations

from collections.abc import Mapping

from fedfrom.graph.network import Node
from fedfrom.model.fact_reading import amount, words
from fedfrom.model.items import Fact, Origin
from fedfrom.passes.feeder_plan import rated_current_of, supply_edges
from fedfrom.passes.sizing_devices import protecting_rating
from fedfrom.passes.work import Work
from fedfrom.quantity import Dimension, Quantity
from fedfrom.results.derivation import Derivation, Rejected, Step
from fedfrom.results.notation import amperes_text
from fedfrom.results.types import FeederResult, TransferResult
from fedfrom.tables import lookup


def size_transfers(
    work: Work, feeders: Mapping[str, FeederResult]
) -> tuple[dict[str, TransferResult], dict[str, Derivation]]:
    """Every node with the role "transfer": rating, poles, class; withstand and fault are filled by the ratings pass."""
    results: dict[str, TransferResult] = {}
    derivations: dict[str, Derivation] = {}
    for tag, node in work.network.nodes.items():
        if node.role != "transfer":
            continue
        rating, origin, derivation = _rating(work, node, feeders)
        results[tag] = _result(node, rating, origin)
        if derivation is not None:
            derivations[derivation.subject] = derivation
    return results, derivations


def _result(node: Node, rating: float | None, origin: Origin) -> TransferResult:
    item = node.item
    sources = {feed.verb: feed.source for feed in item.feeds}
    return TransferResult(
        tag=node.tag,
        title=item.title,
        kind=item.kind,
        system=node.system,
        rating_a=rating,
        rating_origin=origin,
        poles=_poles(node),
        system_class=_text(item.facts.first("system")),
        transition=_text(item.facts.first("transition")),
        bypass=_text(item.facts.first("bypass")),
        withstand_a=None,
        fault_a=None,
        fault_state="",
        normal_from=sources.get("normal from", sources.get("fed from", "")),
        emergency_from=sources.get("emergency from", sources.get("alternate from", sources.get("bypass from", ""))),
        place=_text(item.facts.first("place")),
        status=item.status,
        by=item.by,
        span=item.tag_span,
    )


def _poles(node: Node) -> int:
    """As written (4: the neutral is switched), else one for each line conductor (a solid neutral: common practice)."""
    fact = node.item.facts.first("poles")
    for value in fact.values.values() if fact else ():
        if isinstance(value, int):
            return value
        if isinstance(value, Quantity):
            return int(value.value)
    return 3 if node.system is None or node.system.phases == 3 else 2


def _text(fact: Fact | None) -> str:
    return " ".join(words(fact))


def _rating(
    work: Work, node: Node, feeders: Mapping[str, FeederResult]
) -> tuple[float | None, Origin, Derivation | None]:
    """At least every device ahead of it and the load; the next usual rating (UL 1008 rates it continuously)."""
    written = amount(node.item.facts.first("rating"), Dimension.CURRENT)
    volts = node.system.line_to_line_v if node.system else 0.0
    phases = 3 if node.system is None or node.system.phases == 3 else 1
    if written is None and node.item.kind == "ups":
        return rated_current_of(work, node.item, volts, phases), Origin.WRITTEN, None
    ahead = [feeders[edge.id] for edge in supply_edges(work, node.tag) if edge.id in feeders]
    devices = [rating for feeder in ahead if (rating := protecting_rating(feeder.device)) is not None]
    load = work.node_load(node.tag)
    current = load.design_with_growth_a if load is not None and load.complete else None
    needed = max((*devices, current or 0.0), default=0.0)
    step = Step(
        "greatest of each device ahead and the load with growth",
        f"max({', '.join(amperes_text(each) for each in (*devices, current or 0.0))})",
        amperes_text(needed),
        "common practice, no source",
    )
    if written is not None:
        return written, Origin.WRITTEN, _derivation(node, written, Origin.WRITTEN, step, ())
    ratings = lookup.transfer_ratings(work.edition)
    chosen = next((rating for rating in ratings if rating >= needed - 0.001), None)
    # A supply without a device or a load that is not known leaves the rating open.
    if chosen is None or needed <= 0 or (not devices and current is None):
        return None, Origin.CHOSEN, None
    below = [rating for rating in ratings if rating < chosen]
    rejected = (Rejected(amperes_text(below[-1]), f"below {amperes_text(needed)}"),) if below else ()
    return chosen, Origin.CHOSEN, _derivation(node, chosen, Origin.CHOSEN, step, rejected)


def _derivation(node: Node, rating: float, origin: Origin, step: Step, rejected: tuple[Rejected, ...]) -> Derivation:
    return Derivation(
        f"{node.tag}.rating",
        f"{node.item.kind} rating",
        amperes_text(rating),
        origin,
        (),
        (step,),
        "next usual rating" if origin is Origin.CHOSEN else "as written, checked",
        "common practice, no source",
        rejected,
        "",
        node.item.tag_span,
    )
