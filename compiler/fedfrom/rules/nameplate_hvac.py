"""A circuit does not keep what the nameplate says."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.sizing_devices import protecting_rating
from fedfrom.passes.sizing_limits import ampacity_shortfall
from fedfrom.passes.sizing_review import CircuitReview
from fedfrom.results.notation import amperes_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked, review_of


def check(design: Design) -> Iterator[Finding]:
    for circuit in review_of(design).circuits:
        if circuit.row.mca_a is not None:
            yield from _check(design, circuit)


def _check(design: Design, circuit: CircuitReview) -> Iterator[Finding]:
    row, edition = circuit.row, design.edition
    if row.mocp_a is None:
        needs = "the nameplate's greatest overcurrent device, 'mocp'"
        yield not_checked("nameplate-hvac", row.key, needs, row.span, edition.clause("440.4(B)"))
    rating = protecting_rating(row.device)
    if row.mocp_a is not None and rating is not None and row.device is not None and rating > row.mocp_a + 0.001:
        yield breach(
            "nameplate-hvac",
            row.key,
            f"{row.key}: {amperes_text(rating)}, the nameplate allows {amperes_text(row.mocp_a)}",
            row.device.span or row.span,
            edition.clause("440.22(C)"),
            advice=f"take {amperes_text(row.mocp_a)} or less",
        )
    short = ampacity_shortfall(edition, circuit.wiring) if circuit.wiring is not None else None
    if short is not None and circuit.wiring is not None:
        yield breach(
            "nameplate-hvac",
            row.key,
            f"{row.key}: {short.message}",
            circuit.wiring.span,
            edition.clause("440.35"),
            short.notes,
            "take a larger conductor",
        )


RULE = Rule(
    id="nameplate-hvac",
    severity=Severity.ERROR,
    title="a circuit does not keep what the nameplate says",
    why="Listed equipment is built and tested for the conductors and the device on its nameplate.",
    clause="440.4(B)",
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
    hvac        RTU "Rooftop unit"      mca 38 A, mocp 50 A, 480 V 3-phase, 60 ft, breaker 70 A
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
    hvac        RTU "Rooftop unit"      mca 38 A, mocp 50 A, 480 V 3-phase, 60 ft, breaker 50 A
}
""",
    check=check,
    applies=reach.loads_of("hvac", "cooling", "heating"),
)
