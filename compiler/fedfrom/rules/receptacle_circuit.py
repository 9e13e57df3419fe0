"""A receptacle does not suit the rating of its circuit."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.fact_reading import amount
from fedfrom.quantity import Dimension
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import placed_loads
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

# Circuit rating -> ratings of receptacles that may stand on it where there are several (Table 210.21(B)(3)).
SEVERAL = {15.0: (15.0,), 20.0: (15.0, 20.0), 30.0: (30.0,), 40.0: (40.0, 50.0), 50.0: (50.0,)}


def check(design: Design) -> Iterator[Finding]:
    for placed in placed_loads(design):
        rating = amount(placed.part.facts.first("receptacle rating"), Dimension.CURRENT)
        device = placed.row.device
        if rating is None or device is None:
            continue
        circuit = device.protects_a
        several = placed.part.kind == "receptacles" and (placed.part.amount.quantity or 2) > 1
        fits = rating in SEVERAL.get(circuit, ()) if several else rating >= circuit
        if fits:
            continue
        key = "Table 210.21(B)(3)" if several else "210.21(B)(1)"
        yield breach(
            "receptacle-circuit",
            placed.subject,
            f"{placed.subject}: a {rating:g} A receptacle on a {circuit:g} A circuit",
            placed.span,
            design.edition.clause(key),
            advice="take a receptacle of the rating of the circuit, or another device",
        )


RULE = Rule(
    id="receptacle-circuit",
    severity=Severity.ERROR,
    title="a receptacle does not suit the rating of its circuit",
    why=(
        "A 15 A receptacle on a 30 A circuit lets a cord carry twice what it is made for; a single 50 A "
        "receptacle on a 20 A circuit trips at half its use."
    ),
    clause="210.21(B)",
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
    equipment   "Kiln"          4 kVA, 208 V 1-phase, 40 ft, breaker 30 A, receptacle rating 20 A
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
    equipment   "Kiln"          4 kVA, 208 V 1-phase, 40 ft, breaker 30 A, receptacle rating 30 A
}
""",
    check=check,
    applies=reach.load_fact("receptacle rating"),
)
