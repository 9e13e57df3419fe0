"""A demand factor of the engineer's own is lower than the code allows."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.fact_reading import amount
from fedfrom.model.items import Fact
from fedfrom.quantity import Dimension
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import occupancy_of
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

# Kinds whose demand the code fixes, with the clause that does; others (motors, equipment, welders) it leaves to the
# engineer and the authority.
FIXED = {
    "lighting": "220.45",
    "receptacles": "220.47",
    "kitchen": "220.56",
    "range": "220.55",
    "dryer": "220.54",
    "heating": "220.51",
    "ev-charger": "220.57",
    "elevator": "620.14",
    "sign": "220.14(F)",
}
# The least that the code's own steps ever come to for a kind; above it an own factor may agree with the table.
LEAST_SHARE = {"receptacles": 0.5, "kitchen": 0.65, "elevator": 0.72, "range": 0.1, "dryer": 0.25, "lighting": 0.2}
OCCUPANCIES_WITH_STEPS = ("dwelling", "hotel_motel", "warehouse_storage")  # Table 220.45: others take lighting in full


def check(design: Design) -> Iterator[Finding]:
    for tag, item in design.model.items.items():
        for fact in item.facts.all("demand"):
            yield from _judged(design, tag, str(fact.values.get("category", "")), fact)
        for load in item.loads:
            written = load.facts.first("demand")
            if written is not None:
                yield from _judged(design, f"{tag} {load.tag or load.name}".strip(), load.kind, written)


def _judged(design: Design, subject: str, kind: str, fact: Fact) -> Iterator[Finding]:
    key, percent = FIXED.get(kind), amount(fact, Dimension.PERCENT)
    if key is None or percent is None or any(item.facts.first("method") for item in design.model.items.values()):
        return
    steps = kind != "lighting" or occupancy_of(design) in OCCUPANCIES_WITH_STEPS
    least = LEAST_SHARE.get(kind, 1.0) if steps else 1.0
    if percent < least * 100 - 1e-9:
        yield breach(
            "demand-basis",
            subject,
            f"{subject}: {percent:g} % of {kind}, the code never goes below {least * 100:g} %",
            fact.span,
            design.edition.clause(key),
            (f"reason given: {fact.reason}",) if fact.reason else (),
            "take the factor out: the table of the code is applied",
        )


RULE = Rule(
    id="demand-basis",
    severity=Severity.ERROR,
    title="a demand factor of the engineer's own is lower than the code allows",
    why=(
        "The demand tables are permissions. A factor of one's own may be careful, but below the table it "
        "takes load away that the service will see."
    ),
    clause="220.40",
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
    receptacles "Offices"       20 kVA, 208 V 3-phase, 60 ft, demand 40 % because "seldom used"
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
    receptacles "Offices"       20 kVA, 208 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.circuits,
)
