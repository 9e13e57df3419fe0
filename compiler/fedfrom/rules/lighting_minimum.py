"""Lighting is given less than the unit load of the floor that it serves."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.load_amounts import served_area
from fedfrom.passes.load_kinds import lighting_row
from fedfrom.results.notation import kva_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    """The greater figure is used by itself; the note says that it was."""
    for tag, node in design.network.nodes.items():
        for load in node.item.loads:
            for part in load.parts or (load,):
                served = served_area(part)
                if served is None or part.kind != "lighting" or part.amount.quantity is None:
                    continue
                row = lighting_row(design.edition, served[1])
                if row is None or part.amount.form not in ("va", "w"):
                    continue
                least = served[0] * row.va_per_ft2
                actual = part.amount.quantity * (1.25 if row.includes_continuous else 1.0)
                if actual >= least - 0.5:
                    continue
                name = part.tag or f'"{part.name or load.name}"'
                yield breach(
                    "lighting-minimum",
                    f"{tag} {name}",
                    f"lighting {name} counts {kva_text(least)} by its area, not {kva_text(part.amount.quantity)}",
                    part.span,
                    design.edition.clause("220.42(A)"),
                    (f"{served[0]:,.0f} ft2 x {row.va_per_ft2:g} VA/ft2",),
                    "nothing to do, unless area or occupancy is wrong: the greater figure counts",
                    Severity.NOTE,
                )


RULE = Rule(
    id="lighting-minimum",
    severity=Severity.NOTE,
    title="lighting is given less than the unit load of the floor that it serves",
    why="The feeder must carry the unit load of the code, whatever the fixtures draw today.",
    clause="220.42(A)",
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
    lighting    "Shop"          2 kVA, 3_000 ft2 retail, 60 ft
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
    lighting    "Shop"          5 kVA, 3_000 ft2 retail, 60 ft
}
""",
    check=check,
    applies=reach.loads_of("lighting", "circuit"),
)
