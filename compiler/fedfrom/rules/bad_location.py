"""Overcurrent devices stand where the code forbids them."""

from __future__ import annotations

import re
from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Item, Status
from fedfrom.passes.place import place_of
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import occupancy_of
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

# Word of a place -> clause of 240.24, and why.
FORBIDDEN = (
    (r"bath(room)?s?", "240.24(E)", "a bathroom"),
    (r"shower(s| room)?", "240.24(E)", "a room with showers"),
    (r"toilets?|restrooms?|washrooms?", "240.24(E)", "a toilet room"),
    (r"(clothes|coat|linen) closets?", "240.24(D)", "near clothes that burn"),
    (r"(?<!under )(?<!under the )(?<!below )(?<!beside )(stairs?|steps|stairway|stairwell)", "240.24(F)", "over steps"),
)

EVERYWHERE_SINCE = 2023  # before, 240.24(E) spoke of dwellings, dormitories and guest rooms only (from memory)
LIVED_IN = ("dwelling", "dormitory", "hotel_motel")


def check(design: Design) -> Iterator[Finding]:
    for tag, gear in design.results.gear.items():
        item = design.model.items[tag]
        place = place_of(design.model, item)
        if place is None or gear.status is not Status.NEW or item.kind in ("wireway", "busway"):
            continue
        for pattern, key, why in FORBIDDEN:
            if key == "240.24(E)" and design.edition.year < EVERYWHERE_SINCE and not _lived_in(design, item):
                continue
            if re.search(rf"\b({pattern})\b", place.text.lower()):
                yield breach(
                    "bad-location",
                    tag,
                    f"{tag} stands in {why} ({place.text})",
                    place.span,
                    design.edition.clause(key),
                    advice="move it to a corridor or a room of its own",
                )
                break


def _lived_in(design: Design, item: Item) -> bool:
    return item.facts.first("dwelling") is not None or occupancy_of(design) in LIVED_IN


RULE = Rule(
    id="bad-location",
    severity=Severity.ERROR,
    title="overcurrent devices stand where the code forbids them",
    why="Steam, clothes and the edge of a stair make a panel dangerous just when somebody reaches for it.",
    clause="240.24",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Bathroom 112"
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
    place       indoor "Corridor 112"
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.gear,
)
