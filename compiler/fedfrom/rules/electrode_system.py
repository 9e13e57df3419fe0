"""The grounding electrodes of a service are too few."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Status
from fedfrom.rules import reach
from fedfrom.rules.placed_loads import for_issue, listing
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked
from fedfrom.source import Span


def check(design: Design) -> Iterator[Finding]:
    silent: list[str] = []
    for tag, gear in design.results.gear.items():
        item = design.model.items[tag]
        if not gear.service_equipment or gear.status is not Status.NEW or item.kind in ("wireway", "meter center"):
            continue
        kinds = [electrode.kind for electrode in item.electrodes for _ in range(electrode.count)]
        span = item.electrodes[0].span if item.electrodes else gear.span
        if not kinds:
            silent.append(tag)
        elif kinds == ["water pipe"]:
            text = f"{tag}: the water pipe is the only electrode, and it needs another beside it"
            yield _finding(design, tag, text, "250.53(D)(2)", span)
        elif len(kinds) == 1 and kinds[0] in ("rod", "plate"):
            text = f"{tag}: one {kinds[0]} alone needs a second, unless it measures 25 ohms or less"
            yield _finding(design, tag, text, "250.53(A)(2)", span)
    if silent and for_issue(design):
        span = design.model.items[silent[0]].tag_span
        clause = design.edition.clause("250.50")
        yield not_checked("electrode-system", silent[0], f"the `electrode` lines of {listing(silent)}", span, clause)


def _finding(design: Design, tag: str, message: str, key: str, span: Span | None) -> Finding:
    advice = "name every electrode that the building has: steel, footing, ring, rods"
    clause = design.edition.clause(key)
    return breach("electrode-system", tag, message, span, clause, advice=advice, severity=Severity.WARNING)


def _needs(design: Design) -> str:
    stated = any(item.electrodes for item in design.model.items.values())
    return "" if stated else "the `electrode` lines of the service, asked for once the project has a `revision`"


RULE = Rule(
    id="electrode-system",
    severity=Severity.WARNING,
    title="the grounding electrodes of a service are too few",
    why=(
        "A water pipe may be replaced by plastic, and one rod in dry sand grounds nothing. All electrodes "
        "that a building has are bonded into one system."
    ),
    clause="250.50",
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
    electrode   water pipe, 30 ft
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
    main        breaker 225 A
    place       indoor "Electrical room"
    electrode   water pipe, 30 ft
    electrode   concrete-encased, 20 ft
    equipment   "Kiln"          30 A, 208 V 3-phase, 60 ft
}
""",
    check=check,
    life_safety=True,
    applies=reach.services,
    needs=_needs,
)
