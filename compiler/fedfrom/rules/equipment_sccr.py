"""equipment has a lower short-circuit rating than the fault current at its terminals."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.fact_reading import amount
from fedfrom.passes.motors import load_of
from fedfrom.quantity import Dimension
from fedfrom.results.governing import governing_fault
from fedfrom.results.notation import kiloamperes_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked

MARKED = ("hvac",)  # equipment whose nameplate carries a short-circuit rating (NEC 440.4(B))
SMALL_CIRCUIT_A = 60.0  # equipment on circuits to this size need not be marked (NEC 440.4(B) exceptions, from memory)
UNMARKED_A = 5000.0  # rating of a control panel without a mark: UL 508A, from memory


def check(design: Design) -> Iterator[Finding]:
    for tag, rows in design.results.circuits.items():
        for row in rows:
            if row.kind != "load" or row.status.is_gone:
                continue
            load = load_of(design.model.items.get(tag), row)
            fact = load.facts.first("sccr") if load is not None else None
            rating = amount(fact, Dimension.CURRENT)
            available = row.fault_load_end_a or _at_gear(design, tag)
            if rating is None:
                small = row.device is not None and row.device.protects_a <= SMALL_CIRCUIT_A
                if row.category in MARKED and not small and available is not None and available > UNMARKED_A:
                    yield not_checked(
                        "equipment-sccr",
                        row.key,
                        f"the `sccr` on the nameplate of {row.name}",
                        row.span,
                        design.edition.clause("110.10"),
                    )
            elif available is None:
                yield not_checked(
                    "equipment-sccr",
                    row.key,
                    f"the available fault current at {tag}",
                    row.span,
                    design.edition.clause("110.10"),
                )
            elif rating < available:
                yield breach(
                    "equipment-sccr",
                    row.key,
                    f"{row.name} is rated {kiloamperes_text(rating)}, "
                    f"but {kiloamperes_text(available)} is available there",
                    fact.span if fact is not None else row.span,
                    design.edition.clause("110.10"),
                    ("at the end of its circuit" if row.fault_load_end_a else f"at {tag}: the length is not known",),
                    "ask for a higher rating, or protect it with current-limiting fuses that its listing names",
                )


def _at_gear(design: Design, tag: str) -> float | None:
    fault = governing_fault(design.results, tag)
    return fault.greatest_a if fault is not None else None


RULE = Rule(
    id="equipment-sccr",
    severity=Severity.ERROR,
    title="equipment has a lower short-circuit rating than the fault current at its terminals",
    why="The controls inside equipment must withstand what the wiring can deliver.",
    clause="110.10",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 10 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    hvac        "Chiller"       mca 210 A, mocp 300 A, sccr 5 kA, 40 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       24 kA at service point, X/R 4
}
switchboard MSB "Main switchboard" {
    fed from    UT, 10 ft
    main        breaker 800 A
    place       indoor "Electrical room"
    hvac        "Chiller"       mca 210 A, mocp 300 A, sccr 35 kA, 40 ft
}
""",
    check=check,
    applies=reach.circuits,
)
