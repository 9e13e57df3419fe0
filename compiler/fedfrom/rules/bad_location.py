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

# What a place counts as -> clause of 240.24, and why.
FORBIDDEN = {
    "bathroom": ("240.24(E)", "a bathroom"),
    "clothes closet": ("240.24(D)", "a clothes closet"),
    "stairway": ("240.24(F)", "over steps"),
}
# Words of a name that suggest such a place; what stands before them may say that it is only near one.
SUGGESTS = (
    (r"bath(room)?s?|showers?( room)?|toilets?|restrooms?|washrooms?", "bathroom"),
    (r"(clothes|coat|linen) closets?", "clothes closet"),
    (r"stairs?|steps|stairways?|stairwells?", "stairway"),
)
NEAR = r"(?<!\bunder )(?<!\bunder the )(?<!\bbelow )(?<!\bbeside )(?<!\bby )(?<!\bnear )(?<!\boutside )(?<!\bnext to )"

EVERYWHERE_SINCE = 2023  # before, 240.24(E) spoke of dwellings, dormitories and guest rooms only (from memory)
LIVED_IN = ("dwelling", "dormitory", "hotel_motel")
SETTLE = "write `counts as ordinary space` after the place if it is none; or move it to a corridor or a room of its own"


def check(design: Design) -> Iterator[Finding]:
    for tag, gear in design.results.gear.items():
        item = design.model.items[tag]
        place = place_of(design.model, item)
        if place is None or gear.status is not Status.NEW or item.kind in ("wireway", "busway"):
            continue
        space = place.space or _suggested(place.text.lower())
        if space not in FORBIDDEN:
            continue
        key, words = FORBIDDEN[space]
        if key == "240.24(E)" and design.edition.year < EVERYWHERE_SINCE and not _lived_in(design, item):
            continue
        clause = design.edition.clause(key)
        if place.space:
            message = f"{tag} stands in {words} ({place.text})" if space != "stairway" else f"{tag} stands over steps"
            advice = "move it to a corridor or a room of its own"
            yield breach("bad-location", tag, message, place.span, clause, advice=advice)
        else:
            message = f'{tag}: its place reads "{place.text}", as if it were {words}'
            severity = Severity.WARNING
            yield breach("bad-location", tag, message, place.span, clause, advice=SETTLE, severity=severity)


def _suggested(name: str) -> str:
    """What the name of a place suggests that it is, "" for nothing that is forbidden."""
    return next((space for words, space in SUGGESTS if re.search(rf"\b{NEAR}({words})\b", name)), "")


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
    place       indoor "Staff 112", counts as bathroom
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
