"""a branch circuit loses more voltage than the project allows."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, not_checked


def check(design: Design) -> Iterator[Finding]:
    limit = design.model.defaults.drop_branch_pct
    if limit is None:
        return
    for tag, rows in design.results.circuits.items():
        lengths = loads = 0
        for row in rows:
            if row.kind != "load" or row.status.is_gone:
                continue
            if row.drop_pct is None and row.length_ft is None:
                lengths += 1
            elif row.drop_pct is None:
                loads += 1
            elif row.drop_pct > limit.value:
                yield breach(
                    "drop-branch",
                    row.key,
                    f"{row.key}: {row.drop_pct:.1f} % drop in the branch circuit, over {limit.value:g} %",
                    row.span,
                    design.edition.clause("practice"),
                    (f"{row.drop_v or 0:.1f} V at {row.load_a or 0:.1f} A over {row.length_ft or 0:g} ft",),
                    "take a larger conductor or a shorter way; or accept it with a reason",
                    Severity.WARNING,
                )
        needs = [
            f"the {what} of {count} circuit{'s' if count > 1 else ''} of {tag}"
            for what, count in (("length", lengths), ("load and conductors", loads))
            if count
        ]
        if needs:
            gear = design.model.items[tag]
            clause = design.edition.clause("practice")
            implied = gear.facts.first("dwelling") is not None and lengths > 0
            how = "state the lengths of the loads, and 'circuits 45 ft' on the dwelling line for those that it implies"
            yield not_checked("drop-branch", tag, " and ".join(needs), gear.tag_span, clause, how if implied else "")


RULE = Rule(
    id="drop-branch",
    severity=Severity.WARNING,
    title="a branch circuit loses more voltage than the project allows",
    why="Lamps, motors and electronic loads at the end of a long circuit work badly on too little voltage.",
    clause="practice",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
defaults { drop feeder 2 %, branch 3 %, total 20 % }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    equipment   "Gate motor cabinet"    16 A, 120 V, 190 ft, phase 12 AWG
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
defaults { drop feeder 2 %, branch 3 %, total 5 % }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    equipment   "Gate motor cabinet"    16 A, 120 V, 190 ft
}
""",
    check=check,
    applies=reach.circuits,
)
