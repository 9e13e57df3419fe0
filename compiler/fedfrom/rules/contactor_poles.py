"""A contactor does not suit the circuits that go through it."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.fact_reading import amount
from fedfrom.model.items import Contactor
from fedfrom.quantity import Dimension
from fedfrom.rules.placed_loads import PlacedLoad, placed_loads
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    through: dict[str, list[PlacedLoad]] = {}
    for placed in placed_loads(design):
        word = placed.part.facts.word("through") or placed.load.facts.word("through")
        if word is not None:
            through.setdefault(word.value, []).append(placed)
    for tag, contactor in design.model.contactors.items():
        circuits = through.get(tag, [])
        for problem in _problems(contactor, circuits):
            yield breach(
                "contactor-poles",
                tag,
                f"{tag}: {problem}",
                contactor.span,
                design.edition.clause("practice"),
                advice="make contactor and circuits agree",
                severity=Severity.WARNING,
            )


def _problems(contactor: Contactor, circuits: list[PlacedLoad]) -> Iterator[str]:
    if not circuits:
        yield "no circuit goes through it"
        return
    rows = {placed.subject: placed.row for placed in circuits}
    needed = sum(row.poles for row in rows.values())
    fact = contactor.facts.first("poles")
    poles = fact.values.get("poles") if fact is not None else None
    if isinstance(poles, int) and poles < needed:
        yield f"{poles} pole{'s' if poles > 1 else ''}, but {needed} are switched ({', '.join(rows)})"
    rating = amount(contactor.facts.first("rating"), Dimension.CURRENT)
    largest = max((row.device.protects_a for row in rows.values() if row.device is not None), default=0.0)
    if rating is not None and rating < largest:
        yield f"rated {rating:g} A, but a circuit of {largest:g} A goes through it"
    gear = list(dict.fromkeys(placed.item.tag for placed in circuits))
    if len(gear) > 1:
        yield f"its circuits come from {' and '.join(gear)}"


def _applies(design: Design) -> bool:
    return bool(design.model.contactors)


RULE = Rule(
    id="contactor-poles",
    severity=Severity.WARNING,
    title="a contactor does not suit the circuits that go through it",
    why=(
        "Contactor, coil circuit and lighting circuits are drawn in three places; on site somebody finds that "
        "a pole is missing."
    ),
    clause="practice",
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
    lighting    "Parking"       1.8 kVA, 120 V, 200 ft, through LC1
    lighting    "Drive"         1.8 kVA, 120 V, 220 ft, through LC1
}
contactor LC1 {
    coil    MDP.1, held electrically, control "photocell"
    poles   1
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
    lighting    "Parking"       1.8 kVA, 120 V, 200 ft, through LC1
    lighting    "Drive"         1.8 kVA, 120 V, 220 ft, through LC1
}
contactor LC1 {
    coil    MDP.1, held electrically, control "photocell"
    poles   2
}
""",
    check=check,
    applies=_applies,
)
