"""A grounding electrode conductor is too small."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Electrode
from fedfrom.passes.grounding import electrode_conductor, grounding_supply
from fedfrom.results.notation import size_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of
from fedfrom.tables import lookup


def check(design: Design) -> Iterator[Finding]:
    work = review_of(design).work
    for tag, item in design.model.items.items():
        supply = grounding_supply(work, tag)
        if supply is None:
            continue
        for electrode in item.electrodes:
            if electrode.size is not None:
                needed = electrode_conductor(design.edition, supply, (electrode,))
                yield from _check(design, tag, electrode, needed)


def _check(design: Design, tag: str, electrode: Electrode, needed: str) -> Iterator[Finding]:
    assert electrode.size is not None
    area = lookup.area_kcmil(design.edition, electrode.size.value)
    least = lookup.area_kcmil(design.edition, needed)
    if area is None or least is None or area >= least * 0.999:
        return
    yield breach(
        "gec-size",
        tag,
        f"{tag}: {size_text(electrode.size.value)} to the {electrode.kind}, {size_text(needed)} is needed",
        electrode.size.span or electrode.span,
        design.edition.clause("Table 250.66"),
        advice=f"take {size_text(needed)} or larger, or leave the size out",
    )


RULE = Rule(
    id="gec-size",
    severity=Severity.ERROR,
    title="a grounding electrode conductor is too small",
    why="It carries lightning and line-to-ground current to the electrode; its size follows the supply conductors.",
    clause="250.66",
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
    electrode   building steel, 20 ft, conductor 10 AWG
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
    electrode   building steel, 20 ft, conductor 4 AWG
}
panelboard LP "Lighting" {
    fed from    T1, 10 ft
    main        breaker 150 A
    place       indoor "Room 2"
    receptacles "Offices"       8 outlets, 60 ft
}
""",
    check=check,
    applies=reach.gear,
)
