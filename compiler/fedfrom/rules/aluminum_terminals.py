"""Aluminum conductors are used where the project or the terminals do not take them."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.results.notation import size_text
from fedfrom.results.types import ConductorResult
from fedfrom.rules.placed_loads import listing
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked
from fedfrom.source import Span
from fedfrom.tables import lookup


def check(design: Design) -> Iterator[Finding]:
    rule = design.model.defaults.facts.first("aluminum conductors")
    runs = [each for each in _runs(design) if each[1].material == "Al"]
    if not runs:
        return
    clause = design.edition.clause("110.14")
    if rule is None:
        subjects = listing([subject for subject, _, _ in runs])
        needs = f"`aluminum conductors` in `defaults`, for the terminals of {subjects}"
        yield not_checked("aluminum-terminals", runs[0][0], needs, runs[0][2], clause)
        return
    forbidden = rule.values.get("use") == "forbidden"
    least = lookup.area_kcmil(design.edition, str(rule.values.get("size", ""))) or 0.0
    for subject, conductors, span in runs:
        area = lookup.area_kcmil(design.edition, conductors.phase) or 0.0
        if not forbidden and area >= least:
            continue
        from_size = size_text(str(rule.values.get("size", "")))
        says = "the project takes copper only" if forbidden else f"the project takes it from {from_size}"
        yield breach(
            "aluminum-terminals",
            subject,
            f"{subject}: {size_text(conductors.phase)} aluminum, and {says}",
            span,
            clause,
            advice="write `wire Cu …` for it",
        )


def _runs(design: Design) -> Iterator[tuple[str, ConductorResult, Span | None]]:
    for feeder in design.results.feeders.values():
        if feeder.conductors is not None and not feeder.conductors.by and feeder.status is Status.NEW:
            yield feeder.id, feeder.conductors, feeder.span
    for rows in design.results.circuits.values():
        for row in rows:
            if row.conductors is not None and row.kind == "load" and row.status is Status.NEW and not row.conductors.by:
                yield row.key, row.conductors, row.span


RULE = Rule(
    id="aluminum-terminals",
    severity=Severity.ERROR,
    title="aluminum conductors are used where the project or the terminals do not take them",
    why=(
        "Aluminum creeps under a clamp that is made for copper: it loosens, heats and burns. Terminals must "
        "be marked for it, and the owner must want it."
    ),
    clause="110.14",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
defaults { aluminum conductors permitted from 1/0 AWG }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    equipment   "Kiln"          90 A, 208 V 3-phase, 60 ft, wire Al THHN/THWN-2
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
defaults { aluminum conductors permitted from 1/0 AWG }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    equipment   "Kiln"          120 A, 208 V 3-phase, 60 ft, wire Al THHN/THWN-2
}
""",
    check=check,
    applies=lambda design: any(each.material == "Al" for _, each, _ in _runs(design)),
)
