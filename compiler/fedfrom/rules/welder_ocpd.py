"""The device of a welder circuit is above its limit."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.branch_needs import kinds_of
from fedfrom.passes.sizing_devices import protecting_rating
from fedfrom.passes.sizing_limits import ampacity_shortfall
from fedfrom.results.notation import amperes_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of


def check(design: Design) -> Iterator[Finding]:
    for circuit in review_of(design).circuits:
        row, limit = circuit.row, circuit.need.device_limit_a
        if kinds_of(circuit.load, row) != {"welder"}:
            continue
        rating = protecting_rating(row.device)
        if rating is not None and limit is not None and row.device is not None and rating > limit + 0.001:
            yield breach(
                "welder-ocpd",
                row.key,
                f"{row.key}: {amperes_text(rating)}, limit {amperes_text(limit)}",
                row.device.span or row.span,
                design.edition.clause("630.12(A)"),
                advice=f"take {amperes_text(limit)} or less",
            )
        short = ampacity_shortfall(design.edition, circuit.wiring) if circuit.wiring is not None else None
        if short is not None and circuit.wiring is not None:
            yield breach(
                "welder-ocpd",
                row.key,
                f"{row.key}: {short.message}",
                circuit.wiring.span,
                design.edition.clause(circuit.need.clause or "630.11(A)"),
                short.notes,
                "take a larger conductor",
            )


RULE = Rule(
    id="welder-ocpd",
    severity=Severity.ERROR,
    title="the device of a welder circuit is above its limit",
    why=(
        "A welder draws great currents for short times, so its device may be larger than that of another load: "
        "twice the rated primary current for an arc welder, three times for a resistance welder. Above that a "
        "fault inside it burns on."
    ),
    clause="630.12(A)",
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
    welder      W1 "Welder"     38 A, 480 V 1-phase, arc, duty 60 %, 40 ft, breaker 100 A
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
    welder      W1 "Welder"     38 A, 480 V 1-phase, arc, duty 60 %, 40 ft, breaker 60 A
}
""",
    check=check,
    applies=reach.loads_of("welder"),
)
