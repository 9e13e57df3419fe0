"""The device of a motor-compressor is above its limit."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.passes.branch_needs import COMPRESSOR_KINDS, kinds_of
from fedfrom.passes.motors import load_of
from fedfrom.passes.sizing_devices import protecting_rating
from fedfrom.results.notation import amperes_text
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of


def check(design: Design) -> Iterator[Finding]:
    for circuit in review_of(design).circuits:
        row, limit = circuit.row, circuit.need.device_limit_a
        rating = protecting_rating(row.device)
        if limit is None or rating is None or row.device is None or rating <= limit + 0.001:
            continue
        if row.mca_a is not None or row.motor_hp is not None or row.load_a is None:
            continue  # a nameplate and a motor by its horsepower have rules of their own
        if not kinds_of(load_of(design.model.items.get(row.gear), row), row) <= COMPRESSOR_KINDS:
            continue
        yield breach(
            "compressor-ocpd",
            row.key,
            f"{row.key}: {amperes_text(rating)}, limit {amperes_text(limit)} for a compressor of {row.load_a:.1f} A",
            row.device.span or row.span,
            design.edition.clause("440.22(A)"),
            (f"225 % of {row.load_a:.1f} A, next standard rating below; 175 % unless it would not start",),
            f"take {amperes_text(limit)} or less",
        )


RULE = Rule(
    id="compressor-ocpd",
    severity=Severity.ERROR,
    title="the device of a motor-compressor is above its limit",
    why="A larger device would not protect the sealed motor of the compressor when it stalls.",
    clause="440.22(A)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    cooling     "Cold store unit"       24 A, 208 V 1-phase, 40 ft, breaker 60 A
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
    place       indoor "Electrical room"
    cooling     "Cold store unit"       24 A, 208 V 1-phase, 40 ft, breaker 50 A
}
""",
    check=check,
)
