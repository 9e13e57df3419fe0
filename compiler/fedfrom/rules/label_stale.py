"""The label on existing gear states less fault current than there is now."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.fact_reading import amount
from fedfrom.model.items import Status
from fedfrom.quantity import Dimension
from fedfrom.results.notation import kiloamperes_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked


def check(design: Design) -> Iterator[Finding]:
    for tag, gear in design.results.gear.items():
        fact = design.model.items[tag].facts.first("marked fault")
        marked = amount(fact, Dimension.CURRENT)
        if fact is None or marked is None or gear.status is Status.DEMOLISH:
            continue
        clause = design.edition.clause("110.24(B)")
        if gear.fault_a is None:
            yield not_checked("label-stale", tag, f"the available fault current at {tag}", fact.span, clause)
        elif gear.fault_a > marked:
            yield breach(
                "label-stale",
                tag,
                f"{tag} is labeled {kiloamperes_text(marked)}, and {kiloamperes_text(gear.fault_a)} is available",
                fact.span,
                clause,
                (f"state: {gear.fault_state}",),
                "put a new label on it, and check the ratings of what stands there",
                Severity.WARNING,
            )


RULE = Rule(
    id="label-stale",
    severity=Severity.WARNING,
    title="the label on existing gear states less fault current than there is now",
    why=(
        "A new transformer of the utility can double the fault current overnight. The label then tells the "
        "electrician a lie."
    ),
    clause="110.24(B)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
existing panelboard MDP "Main panel" {
    fed from        UT, 20 ft
    main            breaker 225 A, interrupting 22 kA
    place           indoor "Electrical room"
    marked fault    5 kA, date 2019-03-01
    sccr            22 kA
    measured        40 A, 12 months, to 2026-05-31, because "utility bills"
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
existing panelboard MDP "Main panel" {
    fed from        UT, 20 ft
    main            breaker 225 A, interrupting 22 kA
    place           indoor "Electrical room"
    marked fault    10 kA, date 2019-03-01
    sccr            22 kA
    measured        40 A, 12 months, to 2026-05-31, because "utility bills"
}
""",
    check=check,
    applies=reach.has_fact("marked fault"),
)
