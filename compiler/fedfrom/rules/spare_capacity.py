"""Gear has less room for growth than the project asks for."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.findings import Finding, Severity
from fedfrom.graph.network import Node
from fedfrom.model.items import Status
from fedfrom.passes.load_growth import written_growth_pct
from fedfrom.results.governing import governing_load
from fedfrom.results.notation import amperes_text
from fedfrom.results.types import GearResult
from fedfrom.rules import reach
from fedfrom.rules.registry import Design, Rule
from fedfrom.rules.support import breach


def check(design: Design) -> Iterator[Finding]:
    for tag, gear in design.results.gear.items():
        node = design.network.nodes[tag]
        if gear.status in (Status.EXISTING, Status.DEMOLISH, Status.FUTURE):
            continue
        yield from _amperes(design, node, gear)
        yield from _poles(design, node, gear)


def _amperes(design: Design, node: Node, gear: GearResult) -> Iterator[Finding]:
    load = governing_load(design.results, gear.tag)
    ratings = [rating for rating in (gear.bus_a, gear.main.protects_a if gear.main else None) if rating is not None]
    if load is None or not ratings or load.design_with_growth_a <= min(ratings) * 1.0005:
        return
    if load.design_a > min(ratings) * 1.0005:
        return  # overloaded already: told by its own rule
    asked = growth_pct(design, node, "load")
    yield breach(
        "spare-capacity",
        gear.tag,
        f"{gear.tag} has {amperes_text(min(ratings) - load.design_a)} to spare, less than the growth asked for",
        gear.span,
        design.edition.clause("practice"),
        (f"{amperes_text(load.design_a)} now, {amperes_text(load.design_with_growth_a)} with {asked:g} % growth",),
        "take a larger main and bus, or ask for less growth here with `growth load …`",
        Severity.WARNING,
    )


def _poles(design: Design, node: Node, gear: GearResult) -> Iterator[Finding]:
    rows = design.results.circuits.get(gear.tag, ())
    used = sum(row.poles for row in rows if row.kind in ("load", "feeder") and row.positions)
    spare = sum(row.poles for row in rows if row.kind in ("spare", "space") and row.positions)
    asked = growth_pct(design, node, "poles")
    if not used or not spare + used or spare >= used * asked / 100 - 1e-6:
        return
    yield breach(
        "spare-capacity",
        gear.tag,
        f"{gear.tag} has {spare} spare poles for {used} in use, less than the {asked:g} % asked for",
        gear.span,
        design.edition.clause("practice"),
        advice="give it more positions, or ask for less growth here with `growth poles …`",
        severity=Severity.WARNING,
    )


def growth_pct(design: Design, node: Node, of: str) -> float:
    """The growth asked for at a node, its own or the project's, in percent."""
    own = written_growth_pct(node, of)
    defaults = design.model.defaults
    stated = defaults.growth_load_pct if of == "load" else defaults.growth_poles_pct
    return own if own is not None else (stated.value if stated is not None else 0.0)


RULE = Rule(
    id="spare-capacity",
    severity=Severity.WARNING,
    title="gear has less room for growth than the project asks for",
    why="The owner asked for it; it is cheap before the gear is bought and dear afterwards.",
    clause="practice",
    bad="""fedfrom 1
project "Example" { code NEC 2023 }
defaults { growth load 25 %, poles 20 % }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 150 A
    place       indoor "Electrical room"
    equipment   "Press"         130 A, 208 V 3-phase, 30 ft
}
""",
    good="""fedfrom 1
project "Example" { code NEC 2023 }
defaults { growth load 25 %, poles 20 % }
utility UT {
    voltage     208Y/120 V
    fault       9 kA at service point, X/R 5
}
panelboard MDP "Main panel" {
    fed from    UT, 20 ft
    main        breaker 225 A
    place       indoor "Electrical room"
    equipment   "Press"         130 A, 208 V 3-phase, 30 ft
}
""",
    check=check,
    applies=reach.gear,
)
