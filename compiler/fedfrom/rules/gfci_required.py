"""Receptacles in wet, outdoor and like places need ground-fault protection of persons."""

from __future__ import annotations

import re
from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import PlacedLoad, load_space, place_words, placed_loads
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

# What the place of a load counts as, and its conditions; the lists of 210.8(A) and (B), shortened.
SPACES = frozenset(("bathroom", "kitchen", "by a sink", "laundry", "locker room", "garage", "crawl space", "outdoors"))
CONDITIONS = ("outdoor", "wet", "damp", "washdown")
# Words of a name that suggest such a place.
SUGGESTS = (
    *("bath", "bathroom", "toilet", "restroom", "washroom", "shower", "locker room", "kitchen", "sink", "laundry"),
    *("outdoor", "roof", "rooftop", "garage", "crawl space"),
)
PROTECTED = frozenset(("GFCI", "dual function"))
LARGEST_1_PHASE_A, LARGEST_3_PHASE_A, TO_GROUND_V = 50.0, 100.0, 150.0  # NEC 210.8(B)
HOW = "write `GFCI` for the device of the circuit, or `outlets GFCI` where the outlets have it"


def check(design: Design) -> Iterator[Finding]:
    clause = design.edition.clause("210.8")
    for placed in placed_loads(design, "receptacles"):
        if not _in_range(design, placed) or _protected(placed):
            continue
        stated = _stated(design, placed)
        if stated:
            message = f"{placed.subject}: receptacles ({stated}) without ground-fault protection of persons"
            yield breach("gfci-required", placed.subject, message, placed.span, clause, advice=HOW)
        elif stated is None and (word := _suggested(placed)):
            message = (
                f'{placed.subject}: its name or place reads "{word}", where receptacles need ground-fault '
                "protection of persons, and none is written"
            )
            advice = f"{HOW}; or `counts as ordinary space` if it is no such place"
            severity = Severity.WARNING
            where = placed.subject
            yield breach("gfci-required", where, message, placed.span, clause, advice=advice, severity=severity)


def _stated(design: Design, placed: PlacedLoad) -> str | None:
    """What the text states that calls for protection, "" where it states that nothing does, None where it is silent."""
    space = load_space(design, placed)
    if space in SPACES:
        return space
    words = place_words(placed)
    return next((word for word in CONDITIONS if word in words), "" if space else None)


def _suggested(placed: PlacedLoad) -> str:
    texts = (*place_words(placed), placed.part.name.lower(), placed.load.name.lower())
    return next((word for word in SUGGESTS if any(re.search(rf"\b{word}s?\b", text) for text in texts)), "")


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
