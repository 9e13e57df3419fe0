"""What the conductors of each feeder must satisfy, by its kind: feeder, service, secondary, tap, generator."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.formulas.ampacity import DWELLING_FACTOR
from fedfrom.formulas.taps import TapRule, rule_for_length, tap_ampacity
from fedfrom.formulas.transformers import generator_conductor
from fedfrom.model.fact_reading import amount, words
from fedfrom.model.items import Feed
from fedfrom.passes.current_trace import current_step, unknown_current_step
from fedfrom.passes.feeder_devices import DeviceSizer, has_own_device
from fedfrom.passes.feeder_plan import LUG_POINTS, FeederPlan, supply_edges
from fedfrom.passes.service_minimum import least_service_a
from fedfrom.passes.sizing_conductors import ConductorRequest, DropLimit
from fedfrom.passes.sizing_devices import is_fused, protecting_rating
from fedfrom.passes.sizing_settings import wire_settings
from fedfrom.passes.work import Work
from fedfrom.quantity import Dimension
from fedfrom.results.derivation import Step
from fedfrom.results.notation import amperes_text
from fedfrom.results.types import DeviceResult
from fedfrom.tables import Edition, lookup

# Gear without line-to-neutral load as a rule: a neutral goes there only where its load needs one.
THREE_WIRE_KINDS = frozenset({"motor control center", "fire pump controller", "disconnect"})


@dataclass(frozen=True, slots=True)
class Protection:
    """What protects a feeder's conductors: `device_a` with `next_size_up`.

    `least_a` and `reason` of a tap, secondary or generator rule; `ground_device_a` for the equipment grounding
    conductor; `ground_rule` as in `ConductorRequest`.
    """

    device_a: float | None
    fuse: bool = False
    next_size_up: bool = True
    may_exceed: bool = False
    least_a: float = 0.0
    reason: str = ""
    clause: str = "215.2(A)"
    ground_rule: str = "equipment"
    ground_device_a: float | None = None


def tap_rules(edition: Edition) -> tuple[TapRule, ...]:
    """The rules of NEC 240.21(B) and (C) that need nothing but a length and a fraction.

    The one for high bays of manufacturing buildings (B)(4) is left out: the building is not known to the text.
    """
    rules = []
    for row in edition.rows("tap_rules_240_21"):
        length, fraction = lookup.number(row["max_length_ft"]), lookup.number(row["min_ampacity_fraction"])
        # The table prints a third as 0.3333.
        exact = 1 / 3 if fraction is not None and abs(fraction - 1 / 3) < 0.001 else fraction
        if row["key"] != "high_bay_tap_100_ft":
            rules.append(TapRule(row["key"], row["clause"], row["applies_to"], length, exact))
    return tuple(rules)


OUTSIDE = frozenset({"outdoor", "underground", "on roof"})


def feeder_tap_rule(edition: Edition, feed: Feed) -> TapRule | None:
    """The rule of a feeder tap by its length; outside all the way it may have any length (240.21(B)(5)).

    None where no rule takes the length, or the length is not known.
    """
    if feed.length_ft is None:
        return None
    found = rule_for_length(tap_rules(edition), "feeder", feed.length_ft.value)
    if found is None and feed.runs and all(run.environment in OUTSIDE for run in feed.runs):
        return next(rule for rule in tap_rules(edition) if rule.key == "outside_tap")
    return found


def protection_of(work: Work, sizer: DeviceSizer, plan: FeederPlan) -> Protection:
    """What protects the conductors of a feeder, and what its rule asks of their ampacity."""
    device = sizer.feeder(plan.edge.id).device
    rating = protecting_rating(device)
    if plan.kind == "service" and rating is None:
        return _service(work, sizer, plan)
    if plan.kind == "secondary":
        return _secondary(work, sizer, plan, device)
    if plan.kind == "generator":
        return _generator(work, sizer, plan, device)
    if plan.kind == "tap" and rating is None:
        return _tap(work, sizer, plan)
    if rating is None:
        # A device that belongs here and could not be chosen leaves the conductors open as well.
        ahead = None if has_own_device(plan) and device is None else sizer.ahead_of(plan.source.tag)
        lugs = plan.feed.point in LUG_POINTS
        return Protection(ahead, clause="240.21" if lugs else "240.4", ground_device_a=ahead)
    if plan.feed.verb == "connects to" and plan.capacity_a is not None:
        least, reason = 1.25 * plan.capacity_a, "125 % of rated output"
        return Protection(rating, is_fused(device), least_a=least, reason=reason, clause="705.28")
    return _dwelling(work, plan, Protection(rating, is_fused(device), ground_device_a=rating))


def _dwelling(work: Work, plan: FeederPlan, protection: Protection) -> Protection:
    """Conductors with the whole load of one dwelling unit: 83 % of the rating, 100 to 400 A, single-phase (310.12)."""
    rating = protection.device_a
    is_dwelling = plan.target.item.facts.first("dwelling") is not None and plan.phases == 1
    if not is_dwelling or rating is None or not 100 <= rating <= 400:
        return protection
    return Protection(
        rating,
        protection.fuse,
        may_exceed=True,
        least_a=DWELLING_FACTOR * rating,
        reason="83 % of the rating",
        clause="310.12",
        ground_rule=protection.ground_rule,
        ground_device_a=protection.ground_device_a,
    )


def _service(work: Work, sizer: DeviceSizer, plan: FeederPlan) -> Protection:
    main = sizer.main(plan.target.tag).device
    rating = protecting_rating(main)
    least, reason = (0.0, "") if rating is not None else _least_of_lugs(work, plan)
    protection = Protection(
        rating, is_fused(main), least_a=least, reason=reason, clause="230.42(A)", ground_rule="none"
    )
    return _dwelling(work, plan, protection)


def _least_of_lugs(work: Work, plan: FeederPlan) -> tuple[float, str]:
    """What the conductors of a service without a main carry at least: that of 230.79; the bus while no load is known.

    Conductors for no load would be thin, and the fault current behind them far too small.
    """
    bus = amount(plan.target.item.facts.first("bus"), Dimension.CURRENT)
    if not plan.carried_a and bus is not None:
        return bus, "the bus, as no load is known"
    least, _ = least_service_a(work, plan)
    return least, "the least rating of a service"


def _secondary(work: Work, sizer: DeviceSizer, plan: FeederPlan, device: DeviceResult | None) -> Protection:
    if device is not None:
        rating = protecting_rating(device)
        return Protection(rating, is_fused(device), next_size_up=False, ground_rule="supply-side", clause="240.21(C)")
    main = sizer.main(plan.target.tag).device
    rating = protecting_rating(main)
    least, reason, clause = rating or 0.0, "the device that they end in", "240.21(C)"
    primary = primary_rating(work, sizer, plan.source.tag)
    length = plan.feed.length_ft.value if plan.feed.length_ft else None
    rule = rule_for_length(tap_rules(work.edition), "secondary", length if length is not None else 10.0)
    volts = plan.source.line_system.line_to_line_v if plan.source.line_system else 0.0
    if rule is not None and primary is not None and rule.min_fraction and plan.volts:
        share = tap_ampacity(primary, rule.min_fraction, volts / plan.volts)
        clause = rule.clause
        if share > least:
            least, reason = share, "a share of the primary device"
    elif rule is not None:
        clause = rule.clause
    return Protection(rating, is_fused(main), False, False, least, reason, clause, "supply-side")


def primary_rating(work: Work, sizer: DeviceSizer, tag: str) -> float | None:
    """The rating of the device on a transformer's primary side, or None where it is not known."""
    for edge in supply_edges(work, tag):
        if edge.feed is None:
            continue
        rating = protecting_rating(sizer.feeder(edge.id).device)
        return rating if rating is not None else sizer.ahead_of(edge.source)
    return None


def _generator(work: Work, sizer: DeviceSizer, plan: FeederPlan, device: DeviceResult | None) -> Protection:
    rating = protecting_rating(device) or protecting_rating(sizer.main(plan.target.tag).device)
    least = generator_conductor(plan.capacity_a) if plan.capacity_a is not None else 0.0
    derived = _bonded_at_source(plan)
    return Protection(
        rating,
        is_fused(device),
        least_a=least,
        reason="115 % of the generator's rated current",
        clause="445.13(A)",
        ground_rule="supply-side" if derived and device is None else "equipment",
        ground_device_a=rating,
    )


def _bonded_at_source(plan: FeederPlan) -> bool:
    """Whether the generator's neutral is bonded at the generator: a separately derived system (`bond` written)."""
    fact = plan.source.item.facts.first("bond")
    return fact is not None and "none" not in {word.lower() for word in words(fact)}


def _tap(work: Work, sizer: DeviceSizer, plan: FeederPlan) -> Protection:
    ahead = sizer.ahead_of(plan.source.tag)
    main = sizer.main(plan.target.tag).device
    end = protecting_rating(main)
    rule = feeder_tap_rule(work.edition, plan.feed)
    least, reason, clause = end or 0.0, "the device that they end in", "240.21(B)"
    if rule is None and ahead is not None:
        return Protection(ahead, least_a=ahead, reason="no tap rule: the whole rating ahead", ground_device_a=ahead)
    if rule is not None:
        clause = rule.clause
        if ahead is not None and rule.min_fraction and tap_ampacity(ahead, rule.min_fraction) > least:
            least, reason = tap_ampacity(ahead, rule.min_fraction), "a share of the device ahead"
    return Protection(end, is_fused(main), False, False, least, reason, clause, "equipment", ahead)


def conductor_request(
    work: Work, plan: FeederPlan, protection: Protection
) -> tuple[ConductorRequest, tuple[Step, ...]] | None:
    """The request for a feeder's conductors with the steps behind it; None where neither load nor device is known."""
    terminal, carried = plan.design_a, plan.carried_a
    unknown = terminal is None or carried is None
    if terminal is None or carried is None:
        if protection.device_a is None and protection.least_a <= 0:
            return None
        terminal, carried = 0.0, 0.0
    feed = plan.feed
    settings = wire_settings(work.model, work.edition, feed.conductors, feed.ambient_c, feed.runs)
    system = plan.system
    # Paralleled generators carry their own rating, not the whole load of the bus.
    if plan.kind == "generator" and plan.capacity_a is not None:
        terminal, carried = min(terminal, plan.capacity_a), min(carried, plan.capacity_a)
    # A device rated 100 % spares its conductors the 25 % as well (215.2(A)(1), exception).
    full = plan.feed.device is not None and "100 % rated" in plan.feed.device.options
    terminal = carried if full else terminal
    clause = work.edition.clause("230.42(A)" if plan.kind == "service" else "215.2(A)")
    own = unknown_current_step(work, plan, clause) if unknown else current_step(work, plan, terminal, clause, full)
    steps = [own]
    if protection.least_a > 0:
        clause = work.edition.clause(protection.clause)
        steps.append(
            Step(
                f"not below {protection.reason}",
                f"{protection.least_a:.1f} A",
                amperes_text(protection.least_a),
                clause,
            )
        )
    if protection.clause == "310.12":
        # The share of the rating stands in place of the load where all of one dwelling unit is carried.
        terminal, carried = min(terminal, protection.least_a), min(carried, protection.least_a)
    request = ConductorRequest(
        written=feed.conductors,
        settings=settings,
        ungrounded=plan.ungrounded,
        phases=plan.phases,
        wye=system is not None and system.kind in ("wye", "single-phase-of-wye"),
        has_neutral=needs_neutral(work, plan),
        terminal_a=terminal,
        carried_a=carried,
        device_a=protection.device_a,
        fuse=protection.fuse,
        next_size_up=protection.next_size_up,
        device_may_exceed=protection.may_exceed,
        least_ampacity_a=protection.least_a,
        least_reason=protection.reason,
        nonlinear=_nonlinear(work, plan),
        least_size="12" if settings.material.value == "Cu" else "8",
        ground_rule=protection.ground_rule,
        ground_device_a=protection.ground_device_a,
        drop=drop_limits(work, plan),
        by=feed.conductors.wire.by or feed.by,
    )
    return request, tuple(steps)


def needs_neutral(work: Work, plan: FeederPlan) -> bool:
    """Whether a neutral goes with a feeder: the load side is a system with one and the gear may use it.

    None for transformers, and for gear that as a rule has no line-to-neutral load unless its neutral current says so;
    always to service equipment of a grounded system (NEC 250.24(C)).
    """
    own = plan.target.line_system if plan.target.role in ("transformer", "transfer") else plan.target.system
    own = own or plan.system
    if own is None or not own.has_neutral:
        return False
    if plan.feed.conductors.neutral is not None:
        return plan.feed.conductors.neutral.value != "none"
    if plan.target.role == "transformer":
        return False
    if plan.ungrounded == 1:
        return True
    if plan.feed.volts is not None and plan.phases == 1:
        return False
    if plan.kind == "service" and plan.feed.point != "ahead of main":
        return True
    if plan.target.item.kind in THREE_WIRE_KINDS:
        load = work.node_load(plan.target.tag)
        return load is not None and load.neutral_a > 0.5
    return True


def _nonlinear(work: Work, plan: FeederPlan) -> bool:
    """Neutral counted as current-carrying: more than half of its load written as nonlinear, an oversized neutral, or a
    K-rated transformer ahead (NEC 310.15(E)(3))."""
    neutral = plan.feed.conductors.neutral
    oversized = neutral is not None and neutral.value.endswith("%") and float(neutral.value.rstrip("% ")) > 100
    k_rated = plan.source.role == "transformer" and plan.source.item.facts.first("k-factor") is not None
    load = work.node_load(plan.target.tag)
    mostly = load is not None and load.neutral_nonlinear_a > 0.5 * load.neutral_a
    return oversized or k_rated or mostly


def drop_limits(work: Work, plan: FeederPlan) -> tuple[DropLimit, ...]:
    """The feeder limit of the project in every state; () where length or limit is open, or the utility's conductors."""
    limit = work.model.defaults.drop_feeder_pct
    length = plan.feed.length_ft
    by_utility = "utility" in (plan.feed.by, plan.feed.conductors.wire.by)
    if limit is None or length is None or by_utility or plan.volts <= 0:
        return ()
    return tuple(
        DropLimit(current, length.value, factor, plan.volts, plan.phases, limit.value, three_wire)
        for current, factor, three_wire in plan.drop_cases
        if current > 0
    )
