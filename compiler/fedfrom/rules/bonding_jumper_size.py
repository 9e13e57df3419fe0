"""The supply-side bonding jumper is too small."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.sizing_sets import ground_needed
from fedfrom.results.notation import size_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of
from fedfrom.tables import lookup


def check(design: Design) -> Iterator[Finding]:
    edition = design.edition
    for wiring in review_of(design).wirings:
        if wiring.request.ground_rule != "supply-side" or not wiring.conductors.ground:
            continue
        needed, _ = ground_needed(edition, wiring.request, wiring.choice)
        area, least = lookup.area_kcmil(edition, wiring.conductors.ground), lookup.area_kcmil(edition, needed)
        if area is None or least is None or area >= least * 0.999:
            continue
        yield breach(
            "bonding-jumper-size",
            wiring.subject,
            f"{wiring.subject}: jumper {size_text(wiring.conductors.ground)}, {size_text(needed)} is needed",
            wiring.span,
            edition.clause("250.102(C)(1)"),
            (f"by {size_text(wiring.conductors.phase)} in each raceway",),
            f"take {size_text(needed)} or larger, or leave it out",
        )


RULE = Rule(
    id="bonding-jumper-size",
    severity=Severity.ERROR,
    title="the supply-side bonding jumper is too small",
    why="Ahead of the first device nothing but the source limits a fault; the supply conductors size the jumper.",
    clause="250.102(C)(1)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
}
transformer T1 {
    fed from    MDP, 30 ft
    rating      45 kVA
    secondary   208Y/120 V
    electrode   building steel, 20 ft
}
panelboard LP "Lighting" {
    fed from    T1, 10 ft, ground 10 AWG
    main        breaker 150 A
    place       indoor "Room 2"
    receptacles "Offices"       8 outlets, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
}
transformer T1 {
    fed from    MDP, 30 ft
    rating      45 kVA
    secondary   208Y/120 V
    electrode   building steel, 20 ft
}
panelboard LP "Lighting" {
    fed from    T1, 10 ft, ground 6 AWG
    main        breaker 150 A
    place       indoor "Room 2"
    receptacles "Offices"       8 outlets, 60 ft
}
""",
    check=check,
    applies=reach.transformers,
)
