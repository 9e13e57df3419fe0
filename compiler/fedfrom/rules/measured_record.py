"""The record behind a measured demand is too short."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.fact_reading import amount
from fedfrom.passes.demand_tables import rule_220
from fedfrom.quantity import Dimension
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked

DAY_S = 86_400.0
YEAR_DAYS = 364.0  # twelve months, however they are counted


def check(design: Design) -> Iterator[Finding]:
    """A year of demand data, or a recording of 30 days with conditions that only the engineer can see."""
    clause = design.edition.clause("220.87")
    least = rule_220(design.edition, "measured_shortest_record")
    for tag, item in design.model.items.items():
        fact = item.facts.first("measured")
        if fact is None:
            continue
        seconds = amount(fact, Dimension.TIME)
        if seconds is None:
            yield not_checked(
                "measured-record", tag, "how long was measured, as `measured 412 A, 12 months`", fact.span, clause
            )
            continue
        days = seconds / DAY_S
        if days >= YEAR_DAYS:
            continue
        if days < least:
            text = f"{tag}: a record of {days:g} days, {least:g} days is the least"
            advice = "record for 30 days, or take the utility's demand data of a year"
            yield breach("measured-record", tag, text, fact.span, clause, advice=advice)
            continue
        yield breach(
            "measured-record",
            tag,
            f"{tag}: a record of {days:g} days in place of a year",
            fact.span,
            clause,
            ("it must be of the fully occupied building; the larger of heating and cooling not then on is added",),
            "add as a load what was not running, or say in `because` that all of it was",
            Severity.NOTE,
        )


RULE = Rule(
    id="measured-record",
    severity=Severity.ERROR,
    title="the record behind a measured demand is too short",
    why="A week does not show what the coldest or hottest day takes; the spare capacity it shows may not be there.",
    clause="220.87",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
existing utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
existing panelboard MDP "Main panel" {
    fed from    UT, 20 ft, phase 4/0 AWG
    main        breaker 225 A
    bus         225 A
    sccr        10 kA
    place       indoor "Electrical room"
    measured    90 A, 7 days, to 2026-05-31, because "recording meter"
    new equipment "Press"       20 A, 208 V 3-phase, 30 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
existing utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
existing panelboard MDP "Main panel" {
    fed from    UT, 20 ft, phase 4/0 AWG
    main        breaker 225 A
    bus         225 A
    sccr        10 kA
    place       indoor "Electrical room"
    measured    90 A, 12 months, to 2026-05-31, because "recording meter"
    new equipment "Press"       20 A, 208 V 3-phase, 30 ft
}
""",
    check=check,
    applies=reach.has_fact("measured"),
)
