"""Heating and cooling of one piece of gear are both counted in full."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Label, Severity
from fedfrom.model.fact_reading import words
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule


def check(design: Design) -> Iterator[Finding]:
    declared = {tag for statement in design.model.noncoincident for group in statement.groups for tag in group}
    for tag, node in design.network.nodes.items():
        live = [load for load in node.item.loads if not load.status.is_gone]
        heating = [load for load in live if load.kind == "heating" and load.tag not in declared]
        cooling = [load for load in live if load.kind == "cooling" and load.tag not in declared]
        method = " ".join(words(node.item.facts.first("method")))
        if not heating or not cooling or method.startswith("optional"):
            continue
        names = " and ".join(load.tag or f'"{load.name}"' for load in (heating[0], cooling[0]))
        yield Finding(
            rule="noncoincident",
            severity=Severity.NOTE,
            subject=tag,
            message=f"heating and cooling on {tag} are both counted in full: {names}",
            span=heating[0].span,
            related=(Label(cooling[0].span, "and this"),),
            help="if they never run together, give them tags and write `noncoincident A or B`",
            clause=design.edition.clause("220.60"),
        )


RULE = Rule(
    id="noncoincident",
    severity=Severity.NOTE,
    title="heating and cooling of one piece of gear are both counted in full",
    why="Loads that never run together may be counted once; where nothing says so, both count.",
    clause="220.60",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    heating     UH-1 "Unit heater"      10 kW, 480 V 3-phase, 30 ft
    cooling     AC-1 "Split unit"       mca 14 A, mocp 20 A, 480 V 3-phase, sccr 10 kA, 30 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    heating     UH-1 "Unit heater"      10 kW, 480 V 3-phase, 30 ft
    cooling     AC-1 "Split unit"       mca 14 A, mocp 20 A, 480 V 3-phase, sccr 10 kA, 30 ft
}
noncoincident UH-1 or AC-1
""",
    check=check,
    applies=reach.loads_of("heating", "cooling", "hvac"),
)
