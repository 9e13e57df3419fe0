"""On its battery a UPS gives so little fault current that devices below it may not trip."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.graph.walk import below
from fedfrom.passes.feeder_plan import rated_current_of
from fedfrom.passes.practice import assumption
from fedfrom.results.notation import amperes_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked, review_of


def check(design: Design) -> Iterator[Finding]:
    for tag, item in design.model.items.items():
        node = design.network.nodes.get(tag)
        if item.kind != "ups" or node is None or node.system is None:
            continue
        rated = rated_current_of(review_of(design).work, item, node.system.line_to_line_v, node.system.phases or 1)
        clause = design.edition.clause("practice")
        if rated is None:
            yield not_checked("ups-on-battery", tag, f"the rating of {tag}", item.tag_span, clause)
            continue
        current = assumption(design.edition, "ups_battery_multiple") * rated
        least = assumption(design.edition, "least_fault_multiple")
        slow = _slow_devices(design, tag, current / least)
        if slow:
            yield breach(
                "ups-on-battery",
                tag,
                f"on battery {tag} gives about {amperes_text(current)} into a fault: less than {least:g} times "
                f"the device of {slow[0]}{f' and {len(slow) - 1} more' if len(slow) > 1 else ''}",
                item.tag_span,
                clause,
                (f"devices: {', '.join(slow[:12])}", "the bypass clears such a fault as long as its supply is there"),
                "ask the maker for the current on battery, and take fast fuses or smaller devices where it matters",
                Severity.NOTE,
            )


def _slow_devices(design: Design, tag: str, rating_a: float) -> list[str]:
    """Feeders and circuits below a UPS whose device is above a rating, in source order."""
    under = set(below(design.network, design.plan.normal, tag))
    feeders = [
        feeder.id
        for feeder in design.results.feeders.values()
        if feeder.source in under and feeder.device is not None and feeder.device.protects_a > rating_a
    ]
    circuits = [
        row.key
        for gear, rows in design.results.circuits.items()
        for row in rows
        if gear in under and row.kind == "load" and row.device is not None and row.device.protects_a > rating_a
    ]
    return feeders + circuits


RULE = Rule(
    id="ups-on-battery",
    severity=Severity.NOTE,
    title="on its battery a UPS gives so little fault current that devices below it may not trip",
    why="An inverter limits its current; without the bypass a fault stays until the UPS gives up and drops its loads.",
    clause="practice",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       15 kA at service point, X/R 4
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
}
ups UPS1 {
    normal from MDP, 20 ft, breaker 60 A
    bypass from MDP, 22 ft, breaker 60 A
    rating      30 kVA
}
panelboard UP1 "Servers" {
    fed from    UPS1, 15 ft, breaker 50 A
    main        lugs
    place       indoor "Electrical room"
    equipment   "Control system"        8 kVA, 480 V 3-phase, 40 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       15 kA at service point, X/R 4
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
}
ups UPS1 {
    normal from MDP, 20 ft, breaker 350 A
    bypass from MDP, 22 ft, breaker 350 A
    rating      200 kVA
}
panelboard UP1 "Servers" {
    fed from    UPS1, 15 ft, breaker 50 A
    main        lugs
    place       indoor "Electrical room"
    equipment   "Control system"        8 kVA, 480 V 3-phase, 40 ft
}
""",
    check=check,
    applies=reach.kinds("ups"),
)
