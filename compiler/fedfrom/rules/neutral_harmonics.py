"""Third harmonics may overload a neutral."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.results.notation import amperes_text, size_text
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of
from fedfrom.tables import lookup

MAJOR_SHARE = 0.5  # NEC 310.15(E)(3): a major portion of the load
WORST_FACTOR = 1.73  # three phases of rectifier load: their third harmonics add up in the neutral (from memory)


def check(design: Design) -> Iterator[Finding]:
    """Only for what the text itself calls `nonlinear`: the kinds that are mostly electronic say nothing of how much."""
    for each in review_of(design).feeders:
        system = each.plan.target.system
        if each.wiring is None or system is None or system.kind != "wye" or not each.wiring.conductors.neutral:
            continue
        loads = [load for load in design.results.loads.get(each.feeder.target, {}).values() if load.complete]
        worst = max(loads, key=lambda load: load.neutral_nonlinear_a, default=None)
        if worst is None or worst.neutral_nonlinear_a <= MAJOR_SHARE * worst.neutral_a:
            continue
        conductors = each.wiring.conductors
        carries = lookup.ampacity(
            design.edition, conductors.material, conductors.neutral, each.wiring.choice.terminal_c
        )
        expected = WORST_FACTOR * worst.neutral_nonlinear_a
        if carries is None or carries * conductors.sets >= expected:
            continue
        found = f"neutral {size_text(conductors.neutral)} carries {amperes_text(carries * conductors.sets)}"
        yield breach(
            "neutral-harmonics",
            each.feeder.id,
            f"{each.feeder.id}: {found}, third harmonics may put {amperes_text(expected)} on it",
            each.wiring.span,
            design.edition.clause("310.15(E)"),
            (
                f"{amperes_text(worst.neutral_nonlinear_a)} of the {amperes_text(worst.neutral_a)} on it is nonlinear",
                "third harmonics of three phases add up in the neutral, up to 1.73 times the line current",
            ),
            "write `neutral 200 %`, or leave `nonlinear` out where the equipment corrects its current",
            Severity.WARNING,
        )


RULE = Rule(
    id="neutral-harmonics",
    severity=Severity.WARNING,
    title="third harmonics may overload a neutral",
    why="The neutral of a wye system has no device; what electronic loads put on it heats it unseen.",
    clause="310.15(E)",
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
}
panelboard LP "Server room" {
    fed from    MDP, 60 ft, breaker 60 A
    main        lugs
    place       indoor "Room 2"
    1           equipment   "Server rack 1" 40 A, 120 V, nonlinear, 20 ft
    3           equipment   "Server rack 2" 40 A, 120 V, nonlinear, 20 ft
    5           equipment   "Server rack 3" 40 A, 120 V, nonlinear, 20 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft, neutral 200 %
    main        breaker 225 A
    place       indoor "Electrical room"
}
panelboard LP "Server room" {
    fed from    MDP, 60 ft, breaker 60 A, neutral 200 %
    main        lugs
    place       indoor "Room 2"
    1           equipment   "Server rack 1" 40 A, 120 V, nonlinear, 20 ft
    3           equipment   "Server rack 2" 40 A, 120 V, nonlinear, 20 ft
    5           equipment   "Server rack 3" 40 A, 120 V, nonlinear, 20 ft
}
""",
    check=check,
)
