"""Short-circuit current rating of an assembly: written, chosen, by a declared series pair, or not established."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.graph.walk import outgoing_edges
from fedfrom.model.fact_reading import amount
from fedfrom.model.items import Item, Origin
from fedfrom.passes.practice import ratings_at, smallest_rating
from fedfrom.passes.ratings import FOUND_AS_IT_IS, series_rating
from fedfrom.passes.work import Work
from fedfrom.quantity import Dimension
from fedfrom.results.derivation import Derivation, Input, Rejected, Step
from fedfrom.results.notation import kiloamperes_text
from fedfrom.results.types import DeviceResult, GearResult

NOT_ESTABLISHED = "not established"


@dataclass(frozen=True, slots=True)
class AssemblyRating:
    """The rating of gear, A (None: not established), where it is from, and on what basis."""

    rating_a: float | None
    origin: Origin
    basis: str


def assembly_rating(work: Work, item: Item) -> AssemblyRating:
    """The rating of a piece of gear, never above that of its weakest device unless a series combination is declared.

    Source: NEC 110.10; UL 67 and UL 891 marking (the lowest rating of a device governs): from memory.
    """
    written = amount(item.facts.first("sccr"), Dimension.CURRENT)
    series = series_rating(item)
    if written is not None:
        return AssemblyRating(
            written, Origin.WRITTEN, f"series rated with {series.partner}" if series else "fully rated"
        )
    if series is not None:
        return AssemblyRating(series.rating_a, Origin.WRITTEN, f"series rated with {series.partner}")
    fault = work.worst_fault(item.tag)
    node = work.network.nodes[item.tag]
    system = node.system or node.line_system
    if fault is None or system is None or system.is_dc or item.status in FOUND_AS_IT_IS:
        return AssemblyRating(None, Origin.CHOSEN, NOT_ESTABLISHED)
    chosen = smallest_rating(work.edition, "gear_short_circuit_ratings", system.line_to_line_v, fault.greatest_a)
    if chosen is None:
        return AssemblyRating(None, Origin.CHOSEN, "no usual rating suffices")
    weakest = weakest_device(work, item.tag)
    if weakest is not None and weakest[1].interrupting_a is not None and weakest[1].interrupting_a < chosen:
        basis = f"limited by {weakest[0]}"
        return AssemblyRating(weakest[1].interrupting_a, Origin.CHOSEN, basis)
    return AssemblyRating(chosen, Origin.CHOSEN, "fully rated")


def weakest_device(work: Work, tag: str) -> tuple[str, DeviceResult] | None:
    """The device on a bus with the lowest known interrupting rating, with its key; its own main included."""
    found: list[tuple[str, DeviceResult]] = []
    main = work.mains.get(tag)
    if main is not None:
        found.append((f"{tag}.main", main))
    found += [(row.key, row.device) for row in work.circuits.get(tag, ()) if row.device is not None]
    listed = {row.feeder_id for row in work.circuits.get(tag, ())}
    found += [
        (f"the feeder to {feeder.target}", feeder.device)
        for edge in outgoing_edges(work.network, tag)
        if (feeder := work.feeders.get(edge.id)) is not None and feeder.device is not None and edge.id not in listed
    ]
    known = [entry for entry in found if entry[1].interrupting_a is not None]
    return min(known, key=lambda entry: entry[1].interrupting_a or 0.0, default=None)


def assembly_derivation(work: Work, gear: GearResult) -> Derivation | None:
    """How the rating came about, subject "TAG.sccr"; None where it is not established."""
    if gear.sccr_a is None or gear.fault_a is None or gear.system is None:
        return None
    ratings = ratings_at(work.edition, "gear_short_circuit_ratings", gear.system.line_to_line_v)
    lower = [rating for rating in ratings if rating < gear.sccr_a]
    rejected: tuple[Rejected, ...] = ()
    if lower and gear.sccr_origin is Origin.CHOSEN and lower[-1] < gear.fault_a:
        rejected = (Rejected(kiloamperes_text(lower[-1]), f"below {kiloamperes_text(gear.fault_a)}"),)
    return Derivation(
        subject=f"{gear.tag}.sccr",
        title=f"Short-circuit current rating of {gear.tag}",
        value=kiloamperes_text(gear.sccr_a),
        origin=gear.sccr_origin,
        inputs=(Input("I", "greatest available fault current", f"{gear.fault_a:.0f} A"),),
        steps=(Step(f"rating of at least I, {gear.sccr_basis}", "", kiloamperes_text(gear.sccr_a)),),
        rounding="up to the next usual rating at this voltage" if gear.sccr_origin is Origin.CHOSEN else "as written",
        clause=work.edition.clause("110.10"),
        rejected=rejected,
        state=gear.fault_state,
        span=gear.span,
    )
