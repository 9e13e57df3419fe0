"""A load on three-phase gear says neither volts nor phases, and was taken as single-phase."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.graph.connection import THREE_PHASE_KINDS
from fedfrom.model.build_loads import DIVIDED_KINDS
from fedfrom.model.items import Load, Status
from fedfrom.passes.sizing_review import CircuitReview
from fedfrom.results.notation import amperes_text
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach, review_of

# Nobody asks where a load is of the usual size of its kind: small ones to the neutral, household ones between lines.
SMALL_A = 16.0
HOUSEHOLD_A = 50.0
HOUSEHOLD = frozenset({"range", "dryer", "water-heater", "ev-charger", "mobile-home"})
QUIET = DIVIDED_KINDS | THREE_PHASE_KINDS | {"sign"}


def check(design: Design) -> Iterator[Finding]:
    for circuit in review_of(design).circuits:
        row, load = circuit.row, circuit.load
        node = design.network.nodes.get(row.gear)
        if load is None or node is None or node.system is None or row.status is Status.DEMOLISH:
            continue
        if node.system.phases != 3 or not _silent(load) or _usual(circuit, load):
            continue
        volts = f"{circuit.volts:g} V 1-phase"
        current = f", {amperes_text(row.load_a)}" if row.load_a is not None else ""
        yield breach(
            "phases-unsaid",
            row.key,
            f"{load.tag or row.name or row.key} on {row.gear} says neither volts nor phases: taken as {volts}{current}",
            load.span,
            design.edition.clause("practice"),
            advice=f"write `{node.system.line_to_line_v:g} V 3-phase` if it is three-phase, else `{volts}`",
            severity=Severity.WARNING,
        )


def _silent(load: Load) -> bool:
    """Whether nothing on the line says how the load is connected."""
    written = load.volts is not None or load.phases is not None or load.positions or load.parts
    return not written and load.amount.form != "none" and load.kind not in QUIET


def _usual(circuit: CircuitReview, load: Load) -> bool:
    current = circuit.row.load_a
    if current is None:
        return load.amount.form != "hp"
    return current <= (HOUSEHOLD_A if load.kind in HOUSEHOLD else SMALL_A)


RULE = Rule(
    id="phases-unsaid",
    severity=Severity.WARNING,
    title="a load on three-phase gear says neither volts nor phases",
    why="It was taken as single-phase. If it is three-phase, its current, its poles and the balance are all wrong.",
    clause="practice",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage     480Y/277 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    place       indoor "Electrical room"
    cooling     "Chiller"       65 A, 40 ft
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
    place       indoor "Electrical room"
    cooling     "Chiller"       65 A, 480 V 3-phase, 40 ft
}
""",
    check=check,
    applies=reach.circuits,
)
