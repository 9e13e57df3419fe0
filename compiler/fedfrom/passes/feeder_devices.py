"""Devices of feeders and mains of gear. Below first: a device is not chosen smaller than what it feeds directly."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fedfrom.formulas.overcurrent import next_standard_rating
from fedfrom.formulas.transformers import rated_current
from fedfrom.graph.network import Edge
from fedfrom.graph.walk import outgoing_edges
from fedfrom.model.fact_reading import amount
from fedfrom.model.items import Device
from fedfrom.passes.current_trace import current_step
from fedfrom.passes.feeder_plan import INPUT_RATED_KINDS, LUG_POINTS, FeederPlan, supply_edges
from fedfrom.passes.service_minimum import least_service_a
from fedfrom.passes.sizing_devices import DeviceRequest, protecting_rating, size_device
from fedfrom.passes.work import Work
from fedfrom.quantity import Dimension
from fedfrom.results.derivation import Step
from fedfrom.results.notation import amperes_text
from fedfrom.results.types import DeviceResult
from fedfrom.tables import lookup

# Gear whose feeder has no main of its own unless one is written.
WITHOUT_MAIN = frozenset({"busway", "wireway", "motor control center", "disconnect", "fire pump controller"})


@dataclass(frozen=True, slots=True)
class SizedDevice:
    """A device with the steps that led to it; `missing` where it could not be chosen."""

    device: DeviceResult | None
    steps: tuple[Step, ...] = ()
    missing: str = ""


class DeviceSizer:
    """Feeder devices and mains of one design, each computed once."""

    def __init__(self, work: Work, plans: Mapping[str, FeederPlan]) -> None:
        self.work, self.plans = work, plans
        self._devices: dict[str, SizedDevice] = {}
        self._mains: dict[str, SizedDevice] = {}
        self._visiting: set[str] = set()

    # --- feeders ---------------------------------------------------------------------------------------------------

    def feeder(self, edge_id: str) -> SizedDevice:
        """The device at the source end of a feeder; without one for services, taps, lugs and most secondaries."""
        if edge_id not in self._devices:
            self._devices[edge_id] = self._feeder(self.plans[edge_id])
        return self._devices[edge_id]

    def _feeder(self, plan: FeederPlan) -> SizedDevice:
        written = plan.feed.device
        if plan.kind == "generator":
            return self._generator(plan)
        if plan.kind == "secondary" and written is None:
            main = plan.source.item.main
            written = main.device if main and not main.lugs else None
        if written is None and not has_own_device(plan):
            return SizedDevice(None)
        if plan.target.role == "transformer":
            return self._primary(plan, written)
        return self._ordinary(plan, written)

    def _ordinary(self, plan: FeederPlan, written: Device | None) -> SizedDevice:
        needed, steps, missing = self.least_rating(plan, written)
        request = DeviceRequest(written, needed, _poles(plan), status=plan.feed.status)
        return SizedDevice(size_device(self.work.edition, request), steps, missing)

    def least_rating(
        self, plan: FeederPlan, written: Device | None, of_main: bool = False
    ) -> tuple[float | None, tuple[Step, ...], str]:
        """What a feeder's device or main must be rated for: the load, and what it feeds directly."""
        edition = self.work.edition
        full = written is not None and "100 % rated" in written.options
        load = plan.carried_a if full else plan.design_a
        if load is None:
            return None, (), f"the load of {plan.target.tag}"
        steps = [current_step(self.work, plan, load, edition.clause("215.3"), full)]
        needed = max(load, 15.0)
        if plan.capacity_a is not None and plan.target.item.kind in INPUT_RATED_KINDS:
            needed = max(needed, 1.25 * plan.capacity_a)
            steps.append(
                Step(
                    "I = 1.25 rated input",
                    f"1.25 x {plan.capacity_a:.1f} A",
                    amperes_text(needed),
                    "common practice, no source",
                )
            )
        below, name = self.largest_below(plan.target.tag, count_main=not of_main)
        if below > needed:
            needed = below
            steps.append(Step("not below what it feeds", name, amperes_text(below), "common practice, no source"))
        least, clause = least_service_a(self.work, plan)
        if least > needed:
            needed = least
            steps.append(Step("not below the least service", "", amperes_text(least), edition.clause(clause)))
        return needed, tuple(steps), ""

    def _primary(self, plan: FeederPlan, written: Device | None) -> SizedDevice:
        """A transformer's primary device: 125 % of rated current, next standard rating, and at least its load."""
        edition = self.work.edition
        sized = self.work.transformers.get(plan.target.tag)
        rated = sized.primary_a if sized else None
        if rated is None:
            if plan.design_a is None:
                request = DeviceRequest(written, None, _poles(plan), status=plan.feed.status)
                return SizedDevice(size_device(edition, request), (), f"the rating of {plan.target.tag}")
            return self._ordinary(plan, written)
        ratings = lookup.standard_ratings(edition)
        needed = max(1.25 * rated, plan.design_a or 0.0, 15.0)
        steps = (
            Step(
                "I = 1.25 rated primary current",
                f"1.25 x {rated:.1f} A",
                amperes_text(1.25 * rated),
                edition.clause("Table 450.3(B)"),
            ),
        )
        rating = next_standard_rating(needed, ratings)
        request = DeviceRequest(written, rating, _poles(plan), status=plan.feed.status)
        return SizedDevice(size_device(edition, request), steps)

    def _generator(self, plan: FeederPlan) -> SizedDevice:
        """The device at a generator: its own `main`, or one for its rated current where it feeds a single thing."""
        edition = self.work.edition
        main = plan.source.item.main
        written = main.device if main and not main.lugs and main.device else plan.feed.device
        if main is not None and main.lugs and plan.feed.device is None:
            return SizedDevice(None)
        alone = len(outgoing_edges(self.work.network, plan.source.tag)) == 1
        needed = plan.capacity_a if alone and plan.capacity_a is not None else plan.design_a
        if needed is None:
            request = DeviceRequest(written, None, _poles(plan), status=plan.feed.status)
            return SizedDevice(size_device(edition, request), (), f"the rating of {plan.source.tag}")
        name = "rated current of the generator" if alone and plan.capacity_a is not None else "load with growth"
        steps = (Step(f"I = {name}", f"{needed:.1f} A", amperes_text(needed), "common practice, no source"),)
        request = DeviceRequest(written, max(needed, 15.0), _poles(plan), status=plan.feed.status)
        return SizedDevice(size_device(edition, request), steps)

    # --- mains -----------------------------------------------------------------------------------------------------

    def main(self, tag: str) -> SizedDevice:
        """The main of gear; device None for lugs only."""
        if tag not in self._mains:
            self._mains[tag] = self._main(tag)
        return self._mains[tag]

    def _main(self, tag: str) -> SizedDevice:
        item = self.work.model.items[tag]
        if item.main is not None and item.main.lugs:
            return SizedDevice(None)
        plans = [self.plans[edge.id] for edge in supply_edges(self.work, tag) if edge.id in self.plans]
        if not plans:
            return self._inside_main(tag)
        if item.main is None and not any(self._needs_main(plan) for plan in plans):
            return SizedDevice(None)
        written = item.main.device if item.main else None
        plan = plans[0]
        needed, steps, missing = self._main_rating(plan, written)
        request = DeviceRequest(written, needed, _poles(plan), status=item.status)
        return SizedDevice(size_device(self.work.edition, request), steps, missing)

    def _inside_main(self, tag: str) -> SizedDevice:
        """Gear inside other gear: only a written main; left open in rating, what it feeds and carries."""
        item = self.work.model.items[tag]
        written = item.main.device if item.main else None
        if written is None:
            return SizedDevice(None)
        load = self.work.node_load(tag)
        known = load is not None and load.complete
        needed = (
            max(load.design_with_growth_a, self.largest_below(tag, count_main=False)[0], 15.0)
            if load and known
            else None
        )
        node = self.work.network.nodes.get(tag)
        system = node.system if node else None
        poles = 3 if system is None or system.phases == 3 else 2
        missing = "" if needed is not None else f"the load of {tag}"
        return SizedDevice(size_device(self.work.edition, DeviceRequest(written, needed, poles)), (), missing)

    def _needs_main(self, plan: FeederPlan) -> bool:
        """Whether gear must have a main: nothing ahead of it protects it (NEC 230.90, 240.21(B), (C), 408.36)."""
        if plan.target.item.kind in WITHOUT_MAIN or plan.target.role != "bus":
            return False
        unprotected = plan.kind in ("service", "secondary", "tap") and plan.feed.point not in LUG_POINTS
        return unprotected and self.feeder(plan.edge.id).device is None

    def _main_rating(self, plan: FeederPlan, written: Device | None) -> tuple[float | None, tuple[Step, ...], str]:
        ahead = self.feeder(plan.edge.id).device
        rating = protecting_rating(ahead)
        if rating is not None and plan.kind == "feeder":
            step = Step(
                "as the feeder's device", amperes_text(rating), amperes_text(rating), "common practice, no source"
            )
            return rating, (step,), ""
        needed, steps, missing = self.least_rating(plan, written, of_main=True)
        full = self._secondary_current(plan)
        if full is not None and full > (needed or 0.0):
            clause = self.work.edition.clause("Table 450.3(B)")
            steps = (*steps, Step("whole rating of the transformer", f"{full:.1f} A", amperes_text(full), clause))
            needed, missing = full, ""
        return needed, steps, missing

    def _secondary_current(self, plan: FeederPlan) -> float | None:
        """Rated secondary current where this is the only thing that the transformer feeds."""
        transformer = self.work.transformers.get(plan.source.tag)
        if plan.kind != "secondary" or transformer is None or transformer.kva is None:
            return None
        if len(outgoing_edges(self.work.network, plan.source.tag)) != 1 or plan.system is None:
            return None
        phases = 3 if plan.system.phases == 3 else 1
        return rated_current(transformer.kva, plan.system.line_to_line_v, phases)

    # --- what hangs below, what stands ahead -----------------------------------------------------------------------

    def largest_below(self, tag: str, count_main: bool = True) -> tuple[float, str]:
        """The largest device fed directly from a node, and its name; 0 where none is known (stops at transformers)."""
        if tag in self._visiting:
            return 0.0, ""
        self._visiting.add(tag)
        found = [(0.0, "")]
        for row in self.work.circuits.get(tag, ()):
            rating = protecting_rating(row.device) if row.kind == "load" else None
            if rating is not None:
                found.append((rating, row.key))
        item = self.work.model.items[tag]
        main = item.main.device if item.main is not None and count_main else None
        if main is not None and main.rating_a is not None:
            own = main.fuse_a or main.rating_a
            found.append((own.value, f"{tag}.main"))
        rating = amount(item.facts.first("rating"), Dimension.CURRENT) if item.kind == "busway" else None
        if rating is not None:
            found.append((rating, f"busway {tag}"))
        for edge in outgoing_edges(self.work.network, tag):
            found.append(self._below_edge(edge))
        self._visiting.discard(tag)
        return max(found, key=lambda pair: pair[0])

    def _below_edge(self, edge: Edge) -> tuple[float, str]:
        if edge.kind == "inside":
            return self.largest_below(edge.target)
        if edge.id not in self.plans or self.plans[edge.id].feed.verb == "connects to":
            return 0.0, ""
        device = self.feeder(edge.id).device
        rating = protecting_rating(device)
        if rating is not None:
            return rating, f"the feeder to {edge.target}"
        if self.plans[edge.id].source.role == "transformer":
            return 0.0, ""
        return self.largest_below(edge.target)

    def ahead_of(self, tag: str, seen: frozenset[str] = frozenset()) -> float | None:
        """The rating that protects conductors leaving a node's bus without a device: main, feeder device, or above.

        For a transfer switch the larger of its supplies. None behind a transformer or a service without a main.
        """
        if tag in seen:
            return None
        main = protecting_rating(self.main(tag).device) if tag in self.work.model.items else None
        if main is not None:
            return main
        ratings = []
        for edge in supply_edges(self.work, tag):
            if edge.id not in self.plans:
                if edge.kind == "inside":
                    ratings.append(self.ahead_of(edge.source, seen | {tag}))
                continue
            own = protecting_rating(self.feeder(edge.id).device)
            plan = self.plans[edge.id]
            if own is None and plan.kind not in ("service", "secondary") and not has_own_device(plan):
                own = self.ahead_of(edge.source, seen | {tag})
            ratings.append(own)
        known = [rating for rating in ratings if rating is not None]
        return max(known) if known and len(known) == len(ratings) else None


def has_own_device(plan: FeederPlan) -> bool:
    """Whether a feeder has a device at its source end as a rule: not from service, secondary, tap or lugs, and not
    behind a transfer switch or bypass, whose supplies have theirs."""
    if plan.kind in ("service", "secondary", "tap") or plan.feed.point in LUG_POINTS:
        return False
    return plan.source.role != "transfer" or plan.source.item.kind == "ups"


def _poles(plan: FeederPlan) -> int:
    return plan.ungrounded
