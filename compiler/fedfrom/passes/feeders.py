"""Pass: devices and conductors of every feeder; mains, ties, transfer ratings, transformer devices and bonding."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from fedfrom.graph.walk import outgoing_edges
from fedfrom.passes.current_trace import load_inputs
from fedfrom.passes.feeder_conductors import conductor_request, protection_of
from fedfrom.passes.feeder_devices import DeviceSizer, SizedDevice
from fedfrom.passes.feeder_plan import FeederPlan, plan_feeder
from fedfrom.passes.grounding import transformer_bonding
from fedfrom.passes.sizing_sets import SizedConductors, size_conductors
from fedfrom.passes.sizing_trace import conductor_derivation, device_derivation
from fedfrom.passes.tie_sizing import size_ties
from fedfrom.passes.transfer_sizing import size_transfers
from fedfrom.passes.wiring_trace import wiring_derivations
from fedfrom.passes.work import Pass, Work
from fedfrom.results.derivation import Derivation, Step
from fedfrom.results.types import CircuitResult, DeviceResult, FeederResult, TransformerResult


def run(work: Work) -> Work:
    """Fill `feeders`, `mains`, `ties`, the devices of `transformers`, and the feeder rows of `circuits`."""
    plans = {edge.id: plan_feeder(work, edge) for edge in work.network.edges.values() if edge.feed is not None}
    sizer = DeviceSizer(work, plans)
    derivations: dict[str, Derivation] = dict(work.derivations)
    feeders: dict[str, FeederResult] = {}
    for plan in plans.values():
        feeder, explained = _feeder(work, sizer, plan)
        feeders[plan.feed.feeder_id] = feeder
        derivations.update({each.subject: each for each in explained})
    mains = _mains(work, sizer, derivations)
    transformers = {tag: _transformer(work, plans, feeders, mains, result) for tag, result in work.transformers.items()}
    done = replace(work, feeders=feeders, mains=mains, transformers=transformers)
    ties, tie_derivations = size_ties(done)
    transfers, transfer_derivations = size_transfers(done, feeders)
    derivations.update({**tie_derivations, **transfer_derivations})
    circuits = {tag: tuple(_row(feeders, row) for row in rows) for tag, rows in work.circuits.items()}
    return replace(done, ties=ties, transfers=transfers, circuits=circuits, derivations=derivations)


def _feeder(work: Work, sizer: DeviceSizer, plan: FeederPlan) -> tuple[FeederResult, tuple[Derivation, ...]]:
    sized_device = sizer.feeder(plan.edge.id)
    sized = _conductors(work, sizer, plan)
    feed, length = plan.feed, plan.feed.length_ft
    feeder = FeederResult(
        id=feed.feeder_id,
        source=plan.source.tag,
        target=plan.target.tag,
        verb=feed.verb,
        point=feed.point,
        kind=plan.kind,
        system=plan.system,
        length_ft=length.value if length else None,
        device=sized_device.device,
        conductors=sized[0].result if sized else None,
        design_a=plan.design_a,
        load_a=plan.demand_a,
        power_factor=plan.power_factor,
        worst_state=plan.state,
        positions=feed.positions,
        meter=feed.meter,
        status=feed.status,
        by=feed.by,
        length_assumed=bool(length and length.assumed),
        span=feed.span,
    )
    return feeder, _explain(work, plan, sized_device, sized)


def _conductors(
    work: Work, sizer: DeviceSizer, plan: FeederPlan
) -> tuple[SizedConductors, tuple[Step, ...], float | None] | None:
    protection = protection_of(work, sizer, plan)
    requested = conductor_request(work, plan, protection)
    if requested is None:
        return None
    sized = size_conductors(work.edition, requested[0])
    return None if sized is None else (sized, requested[1], protection.device_a)


def _explain(
    work: Work,
    plan: FeederPlan,
    device: SizedDevice,
    sized: tuple[SizedConductors, tuple[Step, ...], float | None] | None,
) -> tuple[Derivation, ...]:
    inputs = list(load_inputs(work, plan))
    state = plan.state
    explained = [
        device_derivation(
            work.edition,
            plan.subject,
            device.device,
            device.steps,
            device.missing,
            tuple(inputs),
            state,
            "feeder device",
        )
    ]
    if sized is not None:
        explained.append(
            conductor_derivation(
                work.edition,
                f"{plan.subject}.phase",
                sized[0],
                sized[1],
                tuple(inputs),
                state,
                sized[2],
            )
        )
        explained.extend(wiring_derivations(work.edition, plan.subject, sized[0], state))
    return tuple(each for each in explained if each is not None)


def _mains(work: Work, sizer: DeviceSizer, derivations: dict[str, Derivation]) -> dict[str, DeviceResult]:
    mains: dict[str, DeviceResult] = {}
    for tag, node in work.network.nodes.items():
        if node.role in ("transfer",):
            continue
        if node.role in ("source", "transformer"):
            sized = _integral_main(work, sizer, tag)
        else:
            sized = sizer.main(tag)
        if sized.device is not None:
            mains[tag] = sized.device
        derivation = device_derivation(
            work.edition, f"{tag}.main", sized.device, sized.steps, sized.missing, title="main"
        )
        if derivation is not None:
            derivations[f"{tag}.main"] = replace(derivation, subject=f"{tag}.main")
    return mains


def _integral_main(work: Work, sizer: DeviceSizer, tag: str) -> SizedDevice:
    """The device that belongs to a generator or transformer: the one that its own `main` line writes."""
    item = work.model.items[tag]
    if item.main is None or item.main.lugs or item.main.device is None:
        return SizedDevice(None)
    for edge in outgoing_edges(work.network, tag):
        if edge.feed is not None and edge.feed.device is None and edge.id in sizer.plans:
            return sizer.feeder(edge.id)
        if edge.feed is not None and edge.id in sizer.plans and sizer.plans[edge.id].kind == "generator":
            return sizer.feeder(edge.id)
    return SizedDevice(None)


def _transformer(
    work: Work,
    plans: Mapping[str, FeederPlan],
    feeders: Mapping[str, FeederResult],
    mains: Mapping[str, DeviceResult],
    result: TransformerResult,
) -> TransformerResult:
    primary = next((feeders[p.feed.feeder_id].device for p in plans.values() if p.target.tag == result.tag), None)
    outgoing = [plan for plan in plans.values() if plan.source.tag == result.tag]
    secondary = mains.get(result.tag)
    if secondary is None and len(outgoing) == 1:
        feeder = feeders[outgoing[0].feed.feeder_id]
        secondary = feeder.device or mains.get(feeder.target)
    if secondary is None and not outgoing:
        inside = [tag for tag in work.model.items[result.tag].enclosed if tag in mains]
        secondary = mains[inside[0]] if len(inside) == 1 else None
    bonding = transformer_bonding(work, result, [feeders[plan.feed.feeder_id] for plan in outgoing])
    return replace(
        result,
        primary_device=primary,
        secondary_device=secondary,
        system_bonding_jumper=bonding.system_bonding_jumper,
        supply_side_bonding_jumper=bonding.supply_side_bonding_jumper,
        grounding_electrode_conductor=bonding.grounding_electrode_conductor,
        electrode_conductors=bonding.electrode_conductors,
    )


def _row(feeders: Mapping[str, FeederResult], row: CircuitResult) -> CircuitResult:
    feeder = feeders.get(row.feeder_id) if row.kind == "feeder" else None
    if feeder is None:
        return row
    load = row.load_a if row.load_a is not None else feeder.load_a
    return replace(row, device=feeder.device, conductors=feeder.conductors, length_ft=feeder.length_ft, load_a=load)


PASS = Pass(
    "feeders",
    needs=frozenset({"loads", "circuits", "transformers"}),
    gives=frozenset({"feeders", "mains", "ties", "transfers", "transformers", "circuits", "derivations"}),
    run=run,
)
