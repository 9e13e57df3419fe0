"""The disconnect of a motor is too small or out of sight."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.fact_reading import amount, words
from fedfrom.quantity import Dimension
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import PlacedLoad, for_issue, listing, placed_loads
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked
from fedfrom.source import Span
from fedfrom.tables.lookup import rule_value

KINDS = ("motor", "hvac", "cooling", "elevator")
INSIDE = ("fire pump controller",)  # the controller has the disconnect of its pump (695.4)


def check(design: Design) -> Iterator[Finding]:
    share = rule_value(design.edition, "motor_rules", "motor_disconnect") / 100
    silent: list[PlacedLoad] = []
    for placed in placed_loads(design, *KINDS):
        if placed.item.kind in INSIDE:
            continue
        fact = placed.part.facts.first("disconnect") or placed.load.facts.first("disconnect")
        if fact is None:
            silent.append(placed)
            continue
        full, rating = placed.row.table_a or placed.row.mca_a, amount(fact, Dimension.CURRENT)
        if full is not None and rating is not None and rating < share * full:
            message = f"{placed.subject}: a {rating:g} A disconnect for {full:g} A, {share * full:.0f} A is the least"
            yield _finding(design, placed, message, "430.110(A)", fact.span, "take the next larger switch")
        if not PLACES & set(words(fact)):
            message = f"{placed.subject}: nothing says that its disconnect is in sight"
            yield _finding(design, placed, message, "430.102", fact.span, "write `in sight`, `integral` or `remote`")
    if silent and for_issue(design):
        tags = listing([placed.load.tag or placed.subject for placed in silent])
        span = silent[0].span
        needs = f"the `disconnect` of {tags}"
        yield not_checked("motor-disconnect", silent[0].subject, needs, span, design.edition.clause("430.102"))


PLACES = frozenset(("in sight", "integral", "remote"))


def _finding(design: Design, placed: PlacedLoad, message: str, key: str, span: Span, advice: str) -> Finding:
    clause = design.edition.clause(key)
    return breach("motor-disconnect", placed.subject, message, span, clause, advice=advice, severity=Severity.WARNING)


def _needs(design: Design) -> str:
    stated = any(placed.part.facts.first("disconnect") for placed in placed_loads(design, *KINDS))
    return "" if stated else "the `disconnect` of the motors, asked for once the project has a `revision`"


RULE = Rule(
    id="motor-disconnect",
    severity=Severity.WARNING,
    title="the disconnect of a motor is too small or out of sight",
    why="Who works on the machine has to see that the switch is open. It must also break a stalled motor.",
    clause="430.110",
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
    motor       "Exhaust fan"   20 hp, 208 V 3-phase, 60 ft, disconnect switch 60 A in sight
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
    motor       "Exhaust fan"   20 hp, 208 V 3-phase, 60 ft, disconnect switch 100 A in sight
}
""",
    check=check,
    applies=reach.loads_of("motor", "hvac", "cooling", "elevator"),
    needs=_needs,
)
