"""A large dry-type transformer stands where the code asks for a fire-rated room."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.fact_reading import amount
from fedfrom.model.items import Item, Status
from fedfrom.passes.place import place_of
from fedfrom.quantity import Dimension
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked
from fedfrom.tables.lookup import rule_value

CLASS_C = 155.0  # NEC 450.21(B) exceptions: insulation of class 155 or higher
INSIDE_KVA = 50.0  # NEC 450.13(B): above this not in a hollow space


def check(design: Design) -> Iterator[Finding]:
    above = rule_value(design.edition, "transformer_rules", "indoor_room_above")
    for tag, result in design.results.transformers.items():
        item = design.model.items.get(tag)
        if item is None or item.kind != "transformer" or result.status is not Status.NEW or result.kva is None:
            continue
        place = place_of(design.model, item)
        if result.kva <= above or (place is not None and place.outdoor):
            continue
        clause = design.edition.clause("450.21(B)")
        rated = _room_is_rated(design, item)
        class_c = amount(item.facts.first("insulation class"), Dimension.TEMPERATURE)
        if rated or (class_c is not None and class_c >= CLASS_C):
            continue
        if class_c is None:
            needs = f"the `insulation class` of {tag}, or a room with `rated 1 h`"
            yield not_checked("xfmr-place", tag, needs, result.span, clause)
            continue
        yield breach(
            "xfmr-place",
            tag,
            f"{tag}: {result.kva:g} kVA with insulation of class {class_c:g} indoors, not in a fire-rated room",
            result.span,
            clause,
            advice="put it in a room with `rated 1 h`, or take insulation of class 155 or higher",
            severity=Severity.WARNING,
        )


def _room_is_rated(design: Design, item: Item) -> bool:
    fact = item.facts.first("place")
    room = design.model.rooms.get(str(fact.values.get("room", ""))) if fact is not None else None
    return room is not None and (amount(room.facts.first("rated"), Dimension.TIME) or 0.0) >= 3600.0


RULE = Rule(
    id="xfmr-place",
    severity=Severity.WARNING,
    title="a large dry-type transformer stands where the code asks for a fire-rated room",
    why=(
        "A transformer that fails burns its insulation. Above 112.5 kVA the code wants walls that hold the "
        "fire, or insulation that does not feed it."
    ),
    clause="450.21(B)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    electrode   water pipe, 30 ft
    electrode   building steel, 20 ft
}
transformer T1 "Offices" {
    fed from    MSB, 30 ft
    rating      150 kVA
    secondary   208Y/120 V
    electrode   building steel, 20 ft
    place       indoor "Storage 12"
    insulation class 130 C
}
panelboard LP1 "Offices" {
    fed from    T1, 10 ft
    main        breaker 400 A
    place       indoor "Storage 12"
    equipment   "Copier"        30 kVA, 208 V 3-phase, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 20 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    electrode   water pipe, 30 ft
    electrode   building steel, 20 ft
}
transformer T1 "Offices" {
    fed from    MSB, 30 ft
    rating      150 kVA
    secondary   208Y/120 V
    electrode   building steel, 20 ft
    place       indoor "Storage 12"
    insulation class 220 C
}
panelboard LP1 "Offices" {
    fed from    T1, 10 ft
    main        breaker 400 A
    place       indoor "Storage 12"
    equipment   "Copier"        30 kVA, 208 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.kinds("transformer"),
)
