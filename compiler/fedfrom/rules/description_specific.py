"""The name of a circuit does not say what it feeds."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import placed_loads
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

VAGUE = frozenset(
    (
        "lighting",
        "lights",
        "light",
        "ltg",
        "receptacles",
        "receptacle",
        "outlets",
        "plugs",
        "power",
        "motor",
        "misc",
        "miscellaneous",
        "general",
        "load",
        "equipment",
        "various",
        "existing",
        "existing load",
        "unknown",
        "heating",
    )
)
PANELS = ("panelboard", "load center")


def check(design: Design) -> Iterator[Finding]:
    for placed in placed_loads(design, status=(Status.NEW, Status.EXISTING)):
        gear = design.results.gear.get(placed.item.tag)
        if gear is None or gear.gear_class not in PANELS or placed.part is not (placed.load.parts or (placed.load,))[0]:
            continue
        name = (placed.load.name or placed.row.name).strip().lower()
        if placed.load.tag or (name and name not in VAGUE):
            continue
        said = f'"{placed.load.name}" does not say what it feeds' if name in VAGUE and name else "has no name"
        yield breach(
            "description-specific",
            placed.subject,
            f"{placed.subject}: {said}",
            placed.span,
            design.edition.clause("408.4(A)"),
            advice="name the use and the room, as the directory in the door will",
            severity=Severity.WARNING,
        )


RULE = Rule(
    id="description-specific",
    severity=Severity.WARNING,
    title="the name of a circuit does not say what it feeds",
    why=(
        'The directory in the door is read by someone in a hurry with a hand on the wrong breaker. "Lighting" '
        "sends that person through the whole board."
    ),
    clause="408.4(A)",
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
    lighting    "Lighting"      1.2 kVA, 60 ft
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
    lighting    "Lighting, storage 104" 1.2 kVA, 60 ft
}
""",
    check=check,
    applies=reach.circuits,
)
