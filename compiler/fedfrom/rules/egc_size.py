"""The equipment grounding conductor is too small."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Origin
from fedfrom.passes.sizing_review import Wiring
from fedfrom.passes.sizing_sets import enlarged_ground, ground_needed
from fedfrom.results.notation import size_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of
from fedfrom.tables import lookup


def check(design: Design) -> Iterator[Finding]:
    for wiring in review_of(design).wirings:
        if wiring.request.ground_rule == "equipment":
            yield from _check(design, wiring)


def _check(design: Design, wiring: Wiring) -> Iterator[Finding]:
    edition, conductors = design.edition, wiring.conductors
    table, ratio = ground_needed(edition, wiring.request, wiring.choice)
    if not table or conductors.origins.get("ground") is Origin.CHOSEN:
        return
    if wiring.existing:
        ratio = 1.0  # what was enlarged when it was installed is not known
    if wiring.with_growth is not None:  # room for growth is part of what ampacity asks for
        ratio = min(ratio, ground_needed(edition, wiring.request, wiring.with_growth)[1])
    needed = enlarged_ground(edition, wiring.choice, table, ratio)
    if not conductors.ground:
        if conductors.ground_kind == "raceway" and not lookup.is_equipment_ground(edition, conductors.raceway_kind):
            yield breach(
                "egc-size",
                wiring.subject,
                f"{wiring.subject}: {conductors.raceway_kind} does not serve as equipment grounding conductor",
                wiring.span,
                edition.clause("250.118"),
                advice=f"write `ground {size_text(needed)}`",
            )
        return
    area, least = lookup.area_kcmil(edition, conductors.ground), lookup.area_kcmil(edition, needed)
    if area is None or least is None or area >= least * 0.999:
        return
    notes = [f"the device asks for {size_text(table)}"]
    if ratio > 1.0005:
        notes.append(f"phase conductors are {ratio:.2f} times what ampacity asks for, and the ground grows with them")
    yield breach(
        "egc-size",
        wiring.subject,
        f"{wiring.subject}: ground {size_text(conductors.ground)}, {size_text(needed)} is needed",
        wiring.span,
        edition.clause("250.122(B)" if ratio > 1.0005 else "Table 250.122"),
        notes,
        f"take {size_text(needed)} or larger, or leave it out",
    )


RULE = Rule(
    id="egc-size",
    severity=Severity.ERROR,
    title="the equipment grounding conductor is too small",
    why="In a fault it carries what opens the device; it grows with the device and with enlarged phase conductors.",
    clause="250.122(A)",
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
    equipment   "Kiln"          90 A, 208 V 3-phase, 60 ft, breaker 100 A, ground 12 AWG
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
    equipment   "Kiln"          90 A, 208 V 3-phase, 60 ft, breaker 100 A, ground 8 AWG
}
""",
    check=check,
    life_safety=True,
    applies=reach.conductors,
)
