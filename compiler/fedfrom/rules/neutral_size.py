"""The neutral is too small."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.sizing_review import FeederReview
from fedfrom.results.notation import amperes_text, size_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of
from fedfrom.tables import lookup


def check(design: Design) -> Iterator[Finding]:
    for each in review_of(design).feeders:
        problem = _problem(design, each)
        if problem is not None and each.wiring is not None:
            message, clause, advice = problem
            neutral = each.plan.feed.conductors.neutral
            yield breach(
                "neutral-size",
                each.feeder.id,
                f"{each.feeder.id}: {message}",
                (neutral.span if neutral else None) or each.wiring.span,
                design.edition.clause(clause),
                advice=advice,
            )


def _problem(design: Design, each: FeederReview) -> tuple[str, str, str] | None:
    """(message, clause key, advice) of what is wrong with a feeder's neutral, or None."""
    if each.wiring is None or each.plan.system is None or each.plan.target.role == "transformer":
        return None
    edition, conductors = design.edition, each.wiring.conductors
    loads = design.results.loads.get(each.feeder.target, {})
    needed = max((load.neutral_a for load in loads.values() if load.complete), default=0.0)
    if not conductors.neutral:
        written = each.plan.feed.conductors.neutral
        if written is not None and written.value == "none" and needed > 0.5:
            return f"no neutral, but {amperes_text(needed)} of unbalanced load", "215.2(A)", "leave 'neutral none' out"
        return None
    carries = lookup.ampacity(edition, conductors.material, conductors.neutral, each.wiring.choice.terminal_c)
    area = lookup.area_kcmil(edition, conductors.neutral)
    if carries is None or area is None:
        return None
    size = size_text(conductors.neutral)
    if carries * conductors.sets < needed - 0.5:
        text = f"neutral {size} carries {amperes_text(carries * conductors.sets)}, unbalance {amperes_text(needed)}"
        return text, "220.61", "take a larger neutral"
    if conductors.sets > 1 and area < 105.5 <= each.wiring.option.area_kcmil:
        return f"neutral {size} in parallel", "310.10(G)", "take 1/0 AWG or larger"
    least = _fault_path_minimum(design, each)
    least_area = lookup.area_kcmil(edition, least) if least else None
    if least_area is not None and area < least_area * 0.999:
        clause = "250.102(C)(1)" if each.feeder.kind in ("service", "secondary") else "215.2(A)(2)"
        return f"neutral {size}, {size_text(least)} is the least for a fault", clause, f"take {size_text(least)}"
    return None


def _fault_path_minimum(design: Design, each: FeederReview) -> str:
    """The least grounded conductor: by the supply conductors ahead of the first device, else the equipment ground."""
    assert each.wiring is not None
    conductors, device = each.wiring.conductors, each.wiring.request.device_a
    area = each.wiring.option.area_kcmil
    if each.feeder.kind in ("service", "secondary"):
        least = lookup.bonding_jumper_size(design.edition, conductors.material, area, conductors.material) or ""
        table = lookup.area_kcmil(design.edition, least)
        return least if table is None or table <= area else conductors.phase
    return lookup.egc_size(design.edition, conductors.material, device) or "" if device is not None else ""


RULE = Rule(
    id="neutral-size",
    severity=Severity.ERROR,
    title="the neutral is too small",
    why="The neutral carries the unbalance, and in a fault to neutral the whole fault current.",
    clause="220.61",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
}
panelboard LP "Lighting" {
    fed from    MDP, 60 ft, breaker 200 A, phase 3/0 AWG, neutral 12 AWG
    main        lugs
    place       indoor "Room 2"
    1           equipment   "Press"         9 kVA, 120 V, 20 ft
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
    main        breaker 400 A
    place       indoor "Electrical room"
}
panelboard LP "Lighting" {
    fed from    MDP, 60 ft, breaker 200 A, phase 3/0 AWG, neutral 3/0 AWG
    main        lugs
    place       indoor "Room 2"
    1           equipment   "Press"         9 kVA, 120 V, 20 ft
}
""",
    check=check,
    applies=reach.conductors,
)
