"""A bus with a second source may be loaded beyond its rating."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.graph.network import Edge
from fedfrom.model.fact_reading import amount
from fedfrom.passes.feeder_plan import FeederPlan
from fedfrom.passes.protection import gear_rule
from fedfrom.quantity import Dimension
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import listing
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked, review_of

OUTPUT_SHARE = 1.25  # NEC 705.12(B): 125 % of the output current of each source


def check(design: Design) -> Iterator[Finding]:
    clause = design.edition.clause("705.12(B)")
    outputs = {each.feeder.id: output_a(design, each.plan) for each in review_of(design).feeders}
    for tag, gear in design.results.gear.items():
        joined = joining(design, tag)
        if not joined or gear.status.is_gone:
            continue
        sources = listing([edge.target for edge in joined])
        amperes = [outputs.get(edge.id) for edge in joined]
        ahead = gear.main.protects_a if gear.main is not None else review_of(design).sizer.ahead_of(tag)
        if gear.bus_a is None or ahead is None or any(each is None for each in amperes):
            needs = f"the `output` of {sources}, and bus and main of {tag}"
            yield not_checked("busbar-120", tag, needs, gear.span, clause)
            continue
        total = OUTPUT_SHARE * sum(each or 0.0 for each in amperes)
        far = all(feed.point == "opposite end" for edge in joined if (feed := edge.feed) is not None)
        share = (gear_rule(design.edition, "bus_120") or 120.0) if far else 100.0
        limit = gear.bus_a * share / 100
        if ahead + total > limit + 0.5 and _devices_a(design, tag, joined) > gear.bus_a:
            yield breach(
                "busbar-120",
                tag,
                f"{tag}: {ahead:g} A ahead and {total:.0f} A from {sources} on a bus of {gear.bus_a:g} A",
                joined[0].feed.span if joined[0].feed is not None else gear.span,
                clause,
                (
                    f"{limit:.0f} A allowed ({share:g} % of the bus); 125 % of the output currents counts",
                    f"nor do all devices on the bus together, {_devices_a(design, tag, joined):g} A, stay below it",
                ),
                "put the source at the `opposite end`, take a larger bus, or connect it ahead of the main",
            )


def _devices_a(design: Design, tag: str, joined: list[Edge]) -> float:
    """All devices on the bus but the main, A: within its rating they cannot overload it (NEC 705.12(B)(3))."""
    rows = design.results.circuits.get(tag, ())
    listed = {row.feeder_id for row in rows}
    own = sum(row.device.protects_a for row in rows if row.device is not None)
    sources = (design.results.feeders.get(edge.id) for edge in joined if edge.id not in listed)
    return own + sum(feeder.device.protects_a for feeder in sources if feeder is not None and feeder.device is not None)


def joining(design: Design, tag: str, ahead: bool = False) -> list[Edge]:
    """The feeds by which sources in parallel join gear; with `ahead` those on the line side of its main."""
    edges = design.network.edges.values()
    feeds = [edge for edge in edges if edge.feed is not None and edge.feed.verb == "connects to" and edge.source == tag]
    return [edge for edge in feeds if edge.feed is not None and (edge.feed.point == "ahead of main") == ahead]


def output_a(design: Design, plan: FeederPlan) -> float | None:
    """The output current of a source in parallel, A: as written, else from its rating at the volts where it joins."""
    if plan.feed.verb != "connects to":
        return None
    item = design.model.items[plan.target.tag]
    written = amount(item.facts.first("output"), Dimension.CURRENT)
    rating = item.facts.first("rating")
    if written is not None or rating is None or not plan.volts:
        return written
    power = amount(rating, Dimension.REAL) or amount(rating, Dimension.APPARENT)
    if power is None:
        return amount(rating, Dimension.CURRENT)
    return power / plan.volts / (3**0.5 if plan.phases == 3 else 1.0)


RULE = Rule(
    id="busbar-120",
    severity=Severity.ERROR,
    title="a bus with a second source may be loaded beyond its rating",
    why=(
        "Each device protects the bus from its own source only. With two sources the loads in between may "
        "draw the sum of both, and nothing trips."
    ),
    clause="705.12(B)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    bus         225 A
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
    equipment   "Press"         80 A, 208 V 3-phase, 60 ft
    equipment   "Oven"          90 A, 208 V 3-phase, 60 ft
}
pv PV1 "Roof" {
    connects to MDP, 60 ft, breaker 60 A
    rating      15 kW
    output      45 A
    place       outdoor "Roof"
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    bus         400 A
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
    equipment   "Press"         80 A, 208 V 3-phase, 60 ft
    equipment   "Oven"          90 A, 208 V 3-phase, 60 ft
}
pv PV1 "Roof" {
    connects to MDP, 60 ft, breaker 60 A
    rating      15 kW
    output      45 A
    place       outdoor "Roof"
}
""",
    check=check,
    applies=reach.kinds("pv", "battery"),
)
