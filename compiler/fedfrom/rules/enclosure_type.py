"""an enclosure does not suit its place."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.passes.place import enclosure_serves, needed_enclosure, place_of
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked


def check(design: Design) -> Iterator[Finding]:
    clause = design.edition.clause("110.28")
    for tag, gear in design.results.gear.items():
        item = design.model.items[tag]
        if gear.status is Status.DEMOLISH or item.kind in ("wireway", "busway"):
            continue
        place = place_of(design.model, item)
        written = item.facts.first("enclosure")
        if place is None:
            yield not_checked("enclosure-type", tag, f"the `place` of {tag}", gear.span, clause)
        elif written is not None and not enclosure_serves(design.edition, gear.enclosure, place):
            chosen = needed_enclosure(design.edition, place)
            advice = f"Type {chosen.type} suits it" if chosen is not None else "no single type suits this place"
            yield breach(
                "enclosure-type",
                tag,
                f"{tag}: a Type {gear.enclosure} enclosure does not suit {place.text}",
                written.span,
                clause,
                advice=advice,
            )
        elif written is None and needed_enclosure(design.edition, place) is None:
            yield breach(
                "enclosure-type",
                tag,
                f"{tag}: no enclosure type suits {place.text}",
                place.span,
                clause,
                advice="move the gear, or divide the conditions",
            )


RULE = Rule(
    id="enclosure-type",
    severity=Severity.ERROR,
    title="an enclosure does not suit its place",
    why="Water, dust and corrosion reach live parts through an enclosure that is not made for them.",
    clause="110.28",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Wash bay", washdown
    enclosure   Type 1
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
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
    place       indoor "Wash bay", washdown
    enclosure   Type 4
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.gear,
)
