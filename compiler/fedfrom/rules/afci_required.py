"""Circuits of dwellings need arc-fault protection.."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import occupancy_of, place_words, placed_loads
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

KINDS = ("lighting", "receptacles")
LIVED_IN = ("dormitory", "hotel_motel")  # 210.12 covers sleeping rooms of dormitories and guest rooms too
EXEMPT = ("bath", "garage", "outdoor", "crawl")  # not in the list of rooms of 210.12(B)
PROTECTED = frozenset(("AFCI", "dual function"))
LARGEST_A = 20.0


def check(design: Design) -> Iterator[Finding]:
    everywhere = occupancy_of(design) in LIVED_IN
    for placed in placed_loads(design, *KINDS):
        dwelling = placed.item.facts.first("dwelling") is not None
        device = placed.row.device
        if not (dwelling or everywhere) or device is None or device.protects_a > LARGEST_A or device.poles != 1:
            continue
        fact = placed.part.facts.first("outlets") or placed.load.facts.first("outlets")
        outlets = {str(fact.values.get("protection"))} if fact is not None else set()
        texts = (*place_words(placed), placed.part.name.lower())
        if PROTECTED & (placed.options | outlets) or any(word in text for word in EXEMPT for text in texts):
            continue
        yield breach(
            "afci-required",
            placed.subject,
            f"{placed.subject}: a {device.protects_a:g} A circuit of a dwelling without arc-fault protection",
            placed.span,
            design.edition.clause("210.12"),
            advice="write `AFCI` or `dual function` for the device, or `outlets AFCI`",
        )


def _applies(design: Design) -> bool:
    return reach.dwellings(design) or occupancy_of(design) in LIVED_IN


RULE = Rule(
    id="afci-required",
    severity=Severity.ERROR,
    title="a circuit of a dwelling has no arc-fault protection",
    why=(
        "Many house fires that start in wiring start at a bad joint or a nailed cable, with a current too "
        "small for a breaker. An arc-fault device hears the arc."
    ),
    clause="210.12",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     120/240 V
    fault       9 kA at service point, X/R 3
}
load center LC "House" {
    fed from        UT, 20 ft
    main            breaker 225 A
    place           outdoor "East wall"
    surge device    50 kA
    dwelling        900 ft2, small-appliance 2, laundry 1
    lighting    "Living room lamps"     0.9 kVA, 120 V, 40 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     120/240 V
    fault       9 kA at service point, X/R 3
}
load center LC "House" {
    fed from        UT, 20 ft
    main            breaker 225 A
    place           outdoor "East wall"
    surge device    50 kA
    dwelling        900 ft2, small-appliance 2, laundry 1
    lighting    "Living room lamps"     0.9 kVA, 120 V, 40 ft, AFCI
}
""",
    check=check,
    life_safety=True,
    applies=_applies,
)
