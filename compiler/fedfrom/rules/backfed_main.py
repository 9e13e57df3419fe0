"""A back-fed main can be pulled out under voltage."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.fact_reading import words
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    for tag, gear in design.results.gear.items():
        main, item = gear.main, design.model.items[tag]
        if main is None or gear.status.is_gone or "back-fed" not in main.options:
            continue
        bolted = "bolt-on" in words(item.facts.first("devices"))
        if bolted or "hold-down" in main.options:
            continue
        yield breach(
            "backfed-main",
            f"{tag}.main",
            f"{tag}.main is back-fed and nothing holds it in place",
            main.span or gear.span,
            design.edition.clause("408.36(D)"),
            advice="write `hold-down` for it, or `devices bolt-on`",
        )


RULE = Rule(
    id="backfed-main",
    severity=Severity.ERROR,
    title="a back-fed main can be pulled out under voltage",
    why=(
        "A plug-in breaker that carries the supply on its load side stays live when it is pulled out. A "
        "fastener keeps it in."
    ),
    clause="408.36(D)",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A, back-fed
    place       indoor "Electrical room"
    devices     plug-in
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
    main        breaker 225 A, back-fed, hold-down
    place       indoor "Electrical room"
    devices     plug-in
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
""",
    check=check,
    applies=lambda design: any("back-fed" in each.main.options for each in design.results.gear.values() if each.main),
)
