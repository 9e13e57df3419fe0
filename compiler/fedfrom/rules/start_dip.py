"""A motor pulls the voltage down when it starts."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach

LIMIT_PCT = 15.0  # common practice, no source: contactors hold down to about 15 to 20 % less


def check(design: Design) -> Iterator[Finding]:
    for tag, rows in design.results.circuits.items():
        item = design.model.items.get(tag)
        if item is None or item.kind == "fire pump controller":
            continue  # its limits are those of drop-fire-pump
        for row in rows:
            if row.start_dip_pct is None or row.start_dip_pct <= LIMIT_PCT or row.status.is_gone:
                continue
            yield breach(
                "start-dip",
                row.key,
                f"{row.key}: {row.name or row.tag} takes {row.start_dip_pct:.0f} % off the voltage at its start",
                row.span,
                design.edition.clause("practice"),
                (f"state: {row.start_dip_state}", f"more than {LIMIT_PCT:g} % is seen and felt"),
                "write `soft starter` or `drive`, or feed it from a stiffer bus",
                Severity.NOTE,
            )


RULE = Rule(
    id="start-dip",
    severity=Severity.NOTE,
    title="a motor pulls the voltage down when it starts",
    why="Lamps flicker, contactors drop out and drives trip when a large motor starts on a weak source.",
    clause="practice",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       3 kA at service point, X/R 3
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    motor       "Compressor"    40 hp, 208 V 3-phase, code G, 60 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       3 kA at service point, X/R 3
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    motor       "Compressor"    40 hp, 208 V 3-phase, code G, soft starter, 60 ft
}
""",
    check=check,
    applies=reach.motors,
)
