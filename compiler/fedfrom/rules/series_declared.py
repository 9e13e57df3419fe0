"""a series rating is named that the design cannot have."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.graph.walk import path_to_source
from fedfrom.passes.rating_review import series_partner
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    clause = design.edition.clause("240.86")
    for tag in design.results.gear:
        partner = series_partner(design.results, tag)
        fact = design.model.items[tag].facts.first("series rated")
        if not partner or fact is None:
            continue
        if design.model.defaults.series_rated_forbidden:
            yield breach(
                "series-declared",
                tag,
                f"{tag} is series rated, and the project forbids series ratings",
                fact.span,
                clause,
                advice="take fully rated devices",
            )
        elif partner not in _ahead(design, tag):
            yield breach(
                "series-declared",
                tag,
                f"{partner} does not stand ahead of {tag}, so the pair cannot act in series",
                fact.span,
                clause,
                (f"ahead of {tag}: {', '.join(_ahead(design, tag)) or 'nothing'}",),
                "name the gear whose device feeds this one",
            )
        elif not fact.reason:
            yield breach(
                "series-declared",
                tag,
                f"the series rating of {tag} names no listing",
                fact.span,
                clause,
                advice='add `because "…"` with the listing of the tested combination',
            )


def _ahead(design: Design, tag: str) -> tuple[str, ...]:
    """The gear whose device protects the feeder, and gear further up on the same voltage."""
    found: list[str] = []
    for state in design.plan.states:
        for above in path_to_source(design.network, state, tag)[1:]:
            if design.network.nodes[above].role == "transformer":
                break
            found.append(above)
    return tuple(dict.fromkeys(found))


RULE = Rule(
    id="series-declared",
    severity=Severity.ERROR,
    title="a series rating is named that the design cannot have",
    why="A series rating holds only for a tested pair in which the named device stands directly ahead.",
    clause="240.86",
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
}
panelboard LP1 "Lighting" {
    fed from        MSB, 15 ft, breaker 225 A
    place           indoor "Electrical room"
    series rated    65 kA with DP2 because "listing report, tested pair"
    lighting    "Hall"          2 kVA, 277 V, 90 ft
}
panelboard DP2 "Elsewhere" {
    fed from    MSB, 80 ft
    place       indoor "Hall"
    equipment   "Furnace"       70 A, 480 V 3-phase, 20 ft
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
}
panelboard LP1 "Lighting" {
    fed from        MSB, 15 ft, breaker 225 A
    place           indoor "Electrical room"
    series rated    65 kA with MSB because "listing report, tested pair"
    lighting    "Hall"          2 kVA, 277 V, 90 ft
}
""",
    check=check,
    life_safety=True,
    applies=reach.has_fact("series rated"),
)
