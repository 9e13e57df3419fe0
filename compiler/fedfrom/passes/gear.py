"""The gear pass: class, bus, short-circuit rating, enclosure, sections and grounding of every piece of gear."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from fedfrom.findings import Finding, Severity
from fedfrom.graph.network import Node
from fedfrom.graph.walk import incoming_edges
from fedfrom.model.fact_reading import amount, words
from fedfrom.model.items import Item, Origin
from fedfrom.passes.class_limits import CLASSES
from fedfrom.passes.device_ahead import device_ahead
from fedfrom.passes.gear_class import ClassDecision, class_derivation, decide, objections
from fedfrom.passes.gear_facts import enclosure_type, is_service
from fedfrom.passes.gear_rating import assembly_derivation, assembly_rating
from fedfrom.passes.grounding import service_bonding
from fedfrom.passes.place import needed_enclosure, place_of
from fedfrom.passes.transformers import electrode_text
from fedfrom.passes.work import Pass, Work
from fedfrom.quantity import Dimension
from fedfrom.results.derivation import Derivation, Input, Rejected, Step
from fedfrom.results.notation import amperes_text
from fedfrom.results.types import ClassVerdict, DeviceResult, GearResult, NodeLoad
from fedfrom.tables import lookup

OTHER_THAN_GEAR = ("transformer", "generator", "utility")
BUS_METAL = "Al"  # where none is written: common practice, no source


def run(work: Work) -> Work:
    """Fill `gear`, with class findings and derivations."""
    gear: dict[str, GearResult] = {}
    derivations = dict(work.derivations)
    findings = list(work.findings)
    for tag, node in work.network.nodes.items():
        if node.role in ("source", "transfer") or node.item.kind in OTHER_THAN_GEAR:
            continue
        decision = decide(work, node.item)
        bus = _bus(work, node.item, decision.gear_class)
        gear[tag] = _result(work, node, decision, bus)
        if decision.verdicts:
            derivations[f"{tag}.class"] = class_derivation(node.item, decision)
        if bus.derivation is not None:
            derivations[f"{tag}.bus"] = bus.derivation
        rating = assembly_derivation(work, gear[tag])
        if rating is not None:
            derivations[rating.subject] = rating
        findings.extend(_class_findings(work, node.item, decision))
    return replace(work, gear=gear, derivations=derivations, findings=tuple(findings))


def _result(work: Work, node: Node, decision: ClassDecision, bus: Bus) -> GearResult:
    item = node.item
    main = work.mains.get(item.tag)
    place = place_of(work.model, item)
    rating = assembly_rating(work, item)
    fault = work.worst_fault(item.tag)
    service = is_service(work, item.tag) or _ahead_of_main(work, item.tag)
    bonding = service_bonding(work, item.tag) if service else None
    chosen = needed_enclosure(work.edition, place) if place is not None else None
    written = enclosure_type(item)
    rows = work.circuits.get(item.tag, ())
    return GearResult(
        tag=item.tag,
        title=item.title,
        gear_class=decision.gear_class,
        class_origin=decision.origin,
        why=decision.why,
        verdicts=decision.verdicts,
        system=node.system or node.line_system,
        fed_from=_fed_from(item),
        bus_a=bus.amperes,
        bus_material=bus.metal,
        bus_origin=bus.origin,
        main=main,
        main_lugs=main is None or (item.main is not None and item.main.lugs),
        sccr_a=rating.rating_a,
        sccr_origin=rating.origin,
        sccr_basis=rating.basis,
        fault_a=fault.greatest_a if fault is not None else None,
        fault_state=fault.state if fault is not None else "",
        enclosure=written or (chosen.type if chosen is not None else ""),
        enclosure_origin=Origin.WRITTEN if written else Origin.CHOSEN,
        place=place.text if place is not None else "",
        metering=" ".join(words(item.facts.first("metering"))),
        positions_total=sum(len(row.positions) for row in rows),
        positions_used=sum(len(row.positions) for row in rows if row.kind in ("load", "feeder")),
        spare_ampacity_a=_spare(work, item, bus.amperes, main),
        imbalance_pct=imbalance(work.node_load(item.tag)),
        service_equipment=service,
        electrodes=tuple(electrode_text(electrode) for electrode in item.electrodes),
        electrode_conductors=bonding.electrode_conductors if bonding is not None else (),
        grounding_electrode_conductor=bonding.grounding_electrode_conductor if bonding is not None else "",
        main_bonding_jumper=bonding.system_bonding_jumper if bonding is not None else "",
        status=item.status,
        by=item.by,
        span=item.tag_span,
    )


def _fed_from(item: Item) -> str:
    return item.feeds[0].source if item.feeds else item.enclosing


def _ahead_of_main(work: Work, tag: str) -> bool:
    """Whether gear is connected ahead of the main of service equipment: then it is a service disconnect too."""
    edges = incoming_edges(work.network, tag)
    return any(
        edge.feed is not None and edge.feed.point == "ahead of main" and is_service(work, edge.source) for edge in edges
    )


# --- bus -----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Bus:
    """The bus of gear: amperes (None: not known), metal, and how they came about."""

    amperes: float | None
    metal: str
    origin: Origin
    derivation: Derivation | None


def _bus(work: Work, item: Item, gear_class: str) -> Bus:
    fact = item.facts.first("bus") or item.facts.first("through bus")
    metals = [word for word in words(fact) if word in ("Cu", "Al")]
    metal = metals[0] if metals else BUS_METAL
    needed, what = _bus_need(work, item)
    written = amount(item.facts.first("through bus"), Dimension.CURRENT) or amount(fact, Dimension.CURRENT)
    if written is None and item.kind not in (*CLASSES, "gear"):
        written = amount(item.facts.first("rating"), Dimension.CURRENT)
    if written is not None:
        return Bus(written, metal, Origin.WRITTEN, _bus_derivation(item, written, Origin.WRITTEN, needed, what, ()))
    if needed is None:
        return Bus(None, metal, Origin.CHOSEN, None)
    ratings = _bus_ratings(work, gear_class)
    chosen = next((rating for rating in ratings if rating >= needed - 0.001), None)
    if chosen is None:
        return Bus(None, metal, Origin.CHOSEN, None)
    lower = [rating for rating in ratings if rating < chosen]
    rejected = (Rejected(amperes_text(lower[-1]), f"below {amperes_text(needed)}"),) if lower else ()
    return Bus(chosen, metal, Origin.CHOSEN, _bus_derivation(item, chosen, Origin.CHOSEN, needed, what, rejected))


def _bus_ratings(work: Work, gear_class: str) -> tuple[float, ...]:
    key = gear_class.replace(" ", "_")
    if key in ("load_center", "panelboard", "switchboard"):
        # A class that is pinned beyond its ratings still gets a bus, so that the finding names one cause only.
        own = lookup.ampere_ratings(work.edition, key)
        above = lookup.ampere_ratings(work.edition, "switchboard")
        return (*own, *(rating for rating in above if rating > own[-1]))
    both = {*lookup.ampere_ratings(work.edition, "panelboard"), *lookup.ampere_ratings(work.edition, "switchboard")}
    return tuple(sorted(both))


def _bus_need(work: Work, item: Item) -> tuple[float | None, str]:
    """What the bus must carry: its main, else the device ahead of it, else the design current."""
    main = work.mains.get(item.tag)
    if main is not None:
        return main.protects_a, "the main"
    ahead = device_ahead(work, item.tag)
    if ahead is not None:
        return ahead.protects_a, "the device ahead"
    load = work.node_load(item.tag)
    if load is not None and load.complete:
        return load.design_with_growth_a, "the design current with growth"
    return None, ""


def _bus_derivation(
    item: Item, amperes: float, origin: Origin, needed: float | None, what: str, rejected: tuple[Rejected, ...]
) -> Derivation:
    steps: tuple[Step, ...] = ()
    if needed is not None:
        steps = (Step(f"bus of at least {what}, {needed:.0f} A", "", amperes_text(amperes)),)
    return Derivation(
        subject=f"{item.tag}.bus",
        title=f"Bus of {item.tag}",
        value=amperes_text(amperes),
        origin=origin,
        inputs=(Input("", what, amperes_text(needed)),) if needed is not None else (),
        steps=steps,
        rounding="next usual rating of the class" if origin is Origin.CHOSEN else "as written, checked",
        clause="common practice, no source",
        rejected=rejected,
        span=item.tag_span,
    )


# --- figures -------------------------------------------------------------------------------------------------------


def _spare(work: Work, item: Item, bus_a: float | None, main: DeviceResult | None) -> float | None:
    """Amperes left on the weakest of bus, main and the device ahead, over the design current (negative: overloaded)."""
    load = work.node_load(item.tag)
    if load is None or not load.complete:
        return None
    ahead = device_ahead(work, item.tag)
    limits = [bus_a, main.protects_a if main is not None else None, ahead.protects_a if ahead is not None else None]
    known = [limit for limit in limits if limit is not None]
    return min(known) - load.design_a if known else None


def imbalance(load: NodeLoad | None) -> float | None:
    """Greatest deviation of a phase from the mean of the phases, percent of the mean; None without load."""
    if load is None:
        return None
    phases = [va for va in load.phase_va if va > 0]
    mean = sum(phases) / len(phases) if phases else 0.0
    return 100.0 * max(abs(va - mean) for va in phases) / mean if mean > 0 else None


# --- findings ------------------------------------------------------------------------------------------------------


def _class_findings(work: Work, item: Item, decision: ClassDecision) -> Iterator[Finding]:
    """Each limit that the class kept passes: at the place of the fact, a published bound as an error."""
    if decision.facts is None or decision.gear_class not in CLASSES:
        return
    verdict = next(entry for entry in decision.verdicts if entry.gear_class == decision.gear_class)
    if verdict.fits:
        return
    for entry in objections(work.edition, decision.facts, decision.gear_class):
        published = entry.measure.bound.severity == "error"
        source = entry.measure.bound.source
        yield Finding(
            rule="class-limits",
            severity=Severity.ERROR if published else Severity.WARNING,
            subject=item.tag,
            message=f"{item.tag} does not fit the class {decision.gear_class}: {_inside(entry.sentence)}",
            span=entry.measure.span or item.tag_span,
            label=f"past the limit of a {decision.gear_class}",
            notes=() if published else ("a planning limit: makers differ",),
            help=_way_out(decision, verdict, entry.near_miss),
            clause=source if published and source else work.edition.clause("practice"),
        )


def _inside(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:].removesuffix(".")


def _way_out(decision: ClassDecision, verdict: ClassVerdict, near_miss: str) -> str:
    fitting = next((entry.gear_class for entry in decision.verdicts if entry.fits), "")
    near = _inside(verdict.near_miss) or f"a {decision.gear_class} needs at least that {near_miss}"
    if decision.origin is Origin.CHOSEN:
        return f"no class fits; {near}"
    other = (
        f"make it a {fitting}, or leave the class open with `gear`" if fitting else "no other class fits as it stands"
    )
    return f"{other}; {near}"


PASS = Pass(
    "gear",
    needs=frozenset({"loads", "circuits", "feeders", "mains", "faults"}),
    gives=frozenset({"gear"}),
    run=run,
)
