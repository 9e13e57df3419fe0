"""A large building has no meters to tell its uses apart."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import listing
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

AREA_FT2 = 25000.0  # ANSI/ASHRAE/IES 90.1, 8.4.3: buildings above this area (from memory)
USES = {
    "lighting": "lighting",
    "receptacles": "plugs",
    "hvac": "heating and cooling",
    "cooling": "heating and cooling",
    "heating": "heating and cooling",
}


def check(design: Design) -> Iterator[Finding]:
    area = sum(load.amount.area_ft2 or 0.0 for item in design.model.items.values() for load in item.loads)
    if area <= AREA_FT2 or reach.dwellings(design) or _metered(design):
        return
    mixed = []
    for tag, item in design.model.items.items():
        uses = {USES[placed.kind] for placed in item.loads if placed.kind in USES and placed.status is Status.NEW}
        if len(uses) > 1:
            mixed.append(tag)
    if mixed:
        yield breach(
            "building-power-split",
            mixed[0],
            f"{listing(mixed)}: uses of different kinds on one panel, in {area:,.0f} ft2 without meters of their own",
            design.model.items[mixed[0]].tag_span,
            design.edition.clause("ASHRAE 90.1 8.4.3"),
            advice="put lighting, plugs and machines on panels of their own, or write `meter` on the feeds",
            severity=Severity.NOTE,
        )


def _metered(design: Design) -> bool:
    return any(edge.feed is not None and edge.feed.meter for edge in design.network.edges.values())


RULE = Rule(
    id="building-power-split",
    severity=Severity.NOTE,
    title="a large building has no meters to tell its uses apart",
    why=(
        "Energy codes ask for separate readings of lighting, plugs, heating and cooling in larger buildings. "
        "Panels that mix them cannot be metered later."
    ),
    clause="ASHRAE 90.1 8.4.3",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       12 kA at service point, X/R 4
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
    lighting    "Offices"               30_000 ft2 office, 277 V, 60 ft
    hvac        RTU-1 "Rooftop unit"    mca 38 A, mocp 50 A, sccr 65 kA, 480 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       12 kA at service point, X/R 4
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
    lighting    "Offices"               20_000 ft2 office, 277 V, 60 ft
    hvac        RTU-1 "Rooftop unit"    mca 38 A, mocp 50 A, sccr 65 kA, 480 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.circuits,
)
