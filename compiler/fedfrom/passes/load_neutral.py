"""The neutral load of a node: by line, with its nonlinear share, and reduced where 220.61 allows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fedfrom.formulas.demand_neutral import reduced_neutral
from fedfrom.passes.connected import MEASURED
from fedfrom.passes.demand_tables import rule_220
from fedfrom.passes.load_demand import Demand
from fedfrom.passes.load_gather import Counted
from fedfrom.quantity import VoltageSystem
from fedfrom.tables import Edition

COOKING_AND_DRYING = frozenset({"range", "dryer"})
# Supplies of two lines and a neutral whose load behind them is not divided: one line may carry its half alone.
THREE_WIRE = frozenset({MEASURED, "mobile-home", "rv-site", "shore-power"})
Lines = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class NeutralLoad:
    """VA to neutral: `by_category` (name, VA on each line, a remark), `by_line` all of it on each line, `nonlinear` the
    nonlinear part of that and `harmonic` what the text itself calls nonlinear. `worst` is the line that carries most;
    `unreduced_a` its current, `current_a` the neutral load in A after 220.61(B), `harmonic_a` of `harmonic`."""

    by_category: tuple[tuple[str, Lines, str], ...]
    by_line: Lines
    nonlinear: Lines
    harmonic: Lines
    worst: int
    unreduced_a: float
    current_a: float
    harmonic_a: float

    @property
    def total_va(self) -> float:
        """VA to neutral, all lines together."""
        return sum(self.by_line)


NO_NEUTRAL = NeutralLoad((), (0.0, 0.0, 0.0), (0.0, 0.0, 0.0), (0.0, 0.0, 0.0), 0, 0.0, 0.0, 0.0)


def neutral_load(demands: Sequence[Demand], system: VoltageSystem | None, edition: Edition) -> NeutralLoad:
    """The greatest unbalanced load on the neutral, reduced where 220.61 allows; nothing without a neutral.

    Cooking and drying count at 70 % of their demand, halved over their two lines. `demands` are those of the standard
    method, also where the node is calculated by an optional one (Annex D, Examples D2(a) and D4(b)).
    """
    if system is None or not system.has_neutral:
        return NO_NEUTRAL
    if system.line_to_neutral_v == system.line_to_line_v:
        return _two_wire(demands, system)
    linear, nonlinear, harmonic = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
    by_category: list[tuple[str, Lines, str]] = []
    cooking_share = rule_220(edition, "neutral_ranges_and_dryers") / 100
    for demand in demands:
        parts = _motors(demand) if demand.added else _parts(demand, cooking_share)
        own = [0.0, 0.0, 0.0]
        for entry, on_lines in parts:
            for index, va in enumerate(on_lines):
                (nonlinear if entry.load.nonlinear else linear)[index] += va
                harmonic[index] += va if entry.load.harmonic else 0.0
                own[index] += va
        if any(own):
            at_70 = f"{cooking_share * 100:g} % of its demand" if demand.category in COOKING_AND_DRYING else ""
            by_category.append((demand.category, (own[0], own[1], own[2]), at_70))
    lines = tuple(a + b for a, b in zip(linear, nonlinear, strict=True))
    worst = max(range(3), key=lambda index: lines[index])
    volts = system.line_to_neutral_v
    kept_out = nonlinear[worst] if system.kind == "wye" else 0.0
    current = reduced_neutral(
        (lines[worst] - kept_out) / volts,
        kept_out / volts,
        rule_220(edition, "neutral_reduction_above"),
        rule_220(edition, "neutral_above_reduction"),
        may_reduce=system.kind != "single-phase-of-wye",
    )
    return NeutralLoad(
        tuple(by_category),
        (lines[0], lines[1], lines[2]),
        (nonlinear[0], nonlinear[1], nonlinear[2]),
        (harmonic[0], harmonic[1], harmonic[2]),
        worst,
        lines[worst] / volts,
        current,
        harmonic[worst] / volts,
    )


def _parts(demand: Demand, cooking_share: float) -> list[tuple[Counted, Lines]]:
    found = []
    for entry, va in demand.parts:
        if entry.va:
            a, b, c = _to_neutral(entry, cooking_share)
            factor = va / entry.va
            found.append((entry, (a * factor, b * factor, c * factor)))
    return found


def _motors(demand: Demand) -> list[tuple[Counted, Lines]]:
    """The 25 % of the largest motor between each line and the neutral."""
    found: list[tuple[Counted, Lines]] = []
    for index in range(3):
        to_neutral = [(entry, each) for entry, each in demand.motors if entry.on_phases[index] > 0]
        if to_neutral:
            entry, each = max(to_neutral, key=lambda pair: pair[1])
            added = each * demand.percent / 100
            found.append((entry, (added * (index == 0), added * (index == 1), added * (index == 2))))
    return found


def _to_neutral(entry: Counted, cooking_share: float) -> Lines:
    a, b, c, ab, bc, ca, abc = entry.even_on
    if entry.load.kind in COOKING_AND_DRYING:
        pairs = ((ab + ca) / 2, (ab + bc) / 2, (bc + ca) / 2)
        return (a + cooking_share * pairs[0], b + cooking_share * pairs[1], c + cooking_share * pairs[2])
    if entry.load.kind in THREE_WIRE:
        third = abc / 3
        return (a + (ab + ca) / 2 + third, b + (ab + bc) / 2 + third, c + (bc + ca) / 2 + third)
    return (a, b, c)


def _two_wire(demands: Sequence[Demand], system: VoltageSystem) -> NeutralLoad:
    """A two-wire circuit: the neutral carries what the line carries."""
    by_category = tuple((each.category, (each.demand_va, 0.0, 0.0), "") for each in demands if each.demand_va > 0)
    total = sum(demand.demand_va for demand in demands)
    current = total / system.line_to_neutral_v
    return NeutralLoad(by_category, (total, 0.0, 0.0), (0.0, 0.0, 0.0), (0.0, 0.0, 0.0), 0, current, current, 0.0)
