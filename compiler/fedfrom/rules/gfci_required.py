"""Receptacles in wet, outdoor and like places need ground-fault protection of persons.."""

from __future__ import annotations

import re
from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import PlacedLoad, place_words, placed_loads
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

# Words of a place (or of the name of a circuit) that call for protection; the lists of 210.8(A) and (B), shortened.
WASHING = (
    *("bath", "bathroom", "toilet", "restroom", "washroom", "shower", "locker room", "kitchen", "sink", "laundry"),
    "washdown",
)
WET_OR_BARE = ("outdoor", "roof", "rooftop", "wet", "damp", "garage", "crawl space")
PROTECTED = frozenset(("GFCI", "dual function"))
LARGEST_1_PHASE_A, LARGEST_3_PHASE_A, TO_GROUND_V = 50.0, 100.0, 150.0  # NEC 210.8(B)


def check(design: Design) -> Iterator[Finding]:
    clause = design.edition.clause("210.8")
    for placed in placed_loads(design, "receptacles"):
        reason = _reason(placed)
        if reason and _in_range(design, placed) and not _protected(placed):
            yield breach(
                "gfci-required",
                placed.subject,
                f"{placed.subject}: receptacles ({reason}) without ground-fault protection of persons",
                placed.span,
                clause,
                advice="write `GFCI` for the device of the circuit, or `outlets GFCI` where the outlets have it",
            )


def _reason(placed: PlacedLoad) -> str:
    texts = (*place_words(placed), placed.part.name.lower(), placed.load.name.lower())
    for word in (*WASHING, *WET_OR_BARE):
        if any(re.search(rf"\b{word}s?\b", text) for text in texts):
            return word
    return ""


def _in_range(design: Design, placed: PlacedLoad) -> bool:
    node = design.network.nodes.get(placed.item.tag)
    device = placed.row.device
    if node is None or node.system is None or device is None:
        return True
    largest = LARGEST_3_PHASE_A if placed.row.poles == 3 else LARGEST_1_PHASE_A
    return node.system.to_ground_v <= TO_GROUND_V and device.protects_a <= largest


def _protected(placed: PlacedLoad) -> bool:
    facts = [owner.facts.first("outlets") for owner in (placed.part, placed.load)]
    outlets = {str(fact.values.get("protection")) for fact in facts if fact is not None}
    return bool(PROTECTED & (placed.options | outlets))


RULE = Rule(
    id="gfci-required",
    severity=Severity.ERROR,
    title="receptacles where the code asks for ground-fault protection of persons have none",
    why=(
        "Water and concrete make a person part of the circuit. A class A device opens before the current "
        "through a body can stop the heart, in the places where that happens."
    ),
    clause="210.8",
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
    receptacles "Roof"          2 outlets, wet, 60 ft
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
    receptacles "Roof"          2 outlets, wet, 60 ft, GFCI
}
""",
    check=check,
    life_safety=True,
    applies=reach.loads_of("receptacles", "circuit"),
)
