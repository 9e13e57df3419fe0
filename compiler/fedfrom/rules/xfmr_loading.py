"""A transformer is loaded above its rating."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.results.notation import kva_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked


def check(design: Design) -> Iterator[Finding]:
    for tag, result in design.results.transformers.items():
        if result.loading_pct is None:
            if result.kva is not None:
                clause = design.edition.clause("practice")
                yield not_checked("xfmr-loading", tag, f"every load behind {tag}", result.span, clause)
            continue
        if result.loading_pct <= 100.0 or result.kva is None:
            continue
        fact = design.model.items[tag].facts.first("rating")
        yield breach(
            "xfmr-loading",
            tag,
            f"{tag}: demand {kva_text(result.kva * 10 * result.loading_pct)} on {result.kva:g} kVA",
            fact.span if fact else result.span,
            design.edition.clause("practice"),
            (f"loading {result.loading_pct:.0f} %",),
            "take the next standard size",
            Severity.WARNING,
        )


RULE = Rule(
    id="xfmr-loading",
    severity=Severity.WARNING,
    title="a transformer is loaded above its rating",
    why="Overload shortens the life of the insulation.",
    clause="practice",
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
}
transformer T1 {
    fed from    MDP, 30 ft
    rating      15 kVA
    secondary   208Y/120 V
    electrode   building steel, 20 ft
}
panelboard LP "Lighting" {
    fed from    T1, 10 ft
    main        breaker
    place       indoor "Room 2"
    equipment   "Ovens"         18 kVA, 208 V 3-phase, 60 ft
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
}
transformer T1 {
    fed from    MDP, 30 ft
    rating      30 kVA
    secondary   208Y/120 V
    electrode   building steel, 20 ft
}
panelboard LP "Lighting" {
    fed from    T1, 10 ft
    main        breaker
    place       indoor "Room 2"
    equipment   "Ovens"         18 kVA, 208 V 3-phase, 60 ft
}
""",
    check=check,
    applies=reach.transformers,
)
