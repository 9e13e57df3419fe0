"""A separately derived system names no grounding electrode."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import not_checked


def check(design: Design) -> Iterator[Finding]:
    for tag, result in design.results.transformers.items():
        system, item = result.secondary, design.model.items.get(tag)
        if system is None or item is None or system.grounding != "solid" or system.is_dc or item.electrodes:
            continue
        inside = [design.model.items[each] for each in item.enclosed if each in design.model.items]
        if any(each.electrodes for each in inside) or item.by:
            continue
        needs = "an `electrode` line: the electrode that its grounded conductor is connected to"
        yield not_checked("sds-bonding", tag, needs, result.span, design.edition.clause("250.30(A)"))


RULE = Rule(
    id="sds-bonding",
    severity=Severity.NOT_CHECKED,
    title="a separately derived system names no grounding electrode",
    why="Its neutral is grounded at the transformer or its first disconnect, to an electrode that must be named.",
    clause="250.30(A)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 400 A
    place       indoor "Electrical room"
}
transformer T1 {
    fed from    MDP, 30 ft
    rating      45 kVA
    secondary   208Y/120 V
}
panelboard LP "Lighting" {
    fed from    T1, 10 ft
    main        breaker 150 A
    place       indoor "Room 2"
    receptacles "Offices"       8 outlets, 60 ft
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
    main        breaker 400 A
    place       indoor "Electrical room"
}
transformer T1 {
    fed from    MDP, 30 ft
    rating      45 kVA
    secondary   208Y/120 V
    electrode   building steel, 20 ft
}
panelboard LP "Lighting" {
    fed from    T1, 10 ft
    main        breaker 150 A
    place       indoor "Room 2"
    receptacles "Offices"       8 outlets, 60 ft
}
""",
    check=check,
    applies=reach.transformers,
)
