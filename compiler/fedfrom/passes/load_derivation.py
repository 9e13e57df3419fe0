"""The load calculation of a node as a hand calculation."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fedfrom.graph.network import Node
from fedfrom.model.items import Origin
from fedfrom.passes.demand_figures import demand_figures
from fedfrom.passes.load_demand import Demand
from fedfrom.passes.load_neutral import NeutralLoad
from fedfrom.passes.load_totals import even_a, motor_additions, neutral_and_across, sizing_lines
from fedfrom.passes.work import Work
from fedfrom.quantity import VoltageSystem
from fedfrom.results.derivation import Derivation, Input, Step
from fedfrom.results.notation import amperes_text, kva_text
from fedfrom.results.types import NodeLoad

# More lines than this and the inputs name the categories only; the schedules have every load.
MOST_INPUTS = 40


def demand_derivation(
    work: Work, node: Node, load: NodeLoad, demands: Sequence[Demand], growth_pct: float
) -> Derivation:
    """ "TAG.demand": the loads, the demand of each category with factor and clause, the sum, amperes, sizing."""
    return Derivation(
        subject=f"{node.tag}.demand",
        title=f"Load of {node.tag}" + ("" if load.complete else " (lower bound: some loads are not known)"),
        value=_value(load, demands),
        origin=Origin.CHOSEN,
        inputs=tuple(_inputs(demands)),
        steps=tuple(_steps(work, node, load, demands, growth_pct)) if load.demand_va > 0 else (),
        clause=work.edition.clause("220.40"),
        state=load.state,
        span=node.item.tag_span,
    )


def _value(load: NodeLoad, demands: Sequence[Demand]) -> str:
    """The demand; what is a lower bound says so, and 0 A is never told of a load that is not known."""
    if load.complete and not demands:
        return "no load"
    if not load.complete and load.demand_va <= 0:
        return "not known"
    return f"{'' if load.complete else 'at least '}{kva_text(load.demand_va)}, {amperes_text(load.demand_a)}"


def _inputs(demands: Sequence[Demand]) -> Iterator[Input]:
    entries = [entry for line in demands if not line.added for entry, _ in line.parts]
    if len(entries) > MOST_INPUTS:
        for line in demands:
            if not line.added:
                yield Input("S", f"{line.category}, {line.count} connected", kva_text(line.connected_va))
        return
    for entry in entries:
        origin = Origin.WRITTEN if entry.load.span is not None else Origin.CHOSEN
        where = f"{entry.load.gear} {entry.load.tag or entry.load.name}"
        amount = kva_text(entry.va) if entry.load.va is not None else "not known"
        yield Input("S", f"{where}: {entry.load.basis}", amount, origin, entry.load.span)


def _steps(work: Work, node: Node, load: NodeLoad, demands: Sequence[Demand], growth_pct: float) -> Iterator[Step]:
    for line in demands:
        clause = work.edition.clause(line.clause) if line.clause else "by the engineer"
        figures = demand_figures(line.connected_va, line.demand_va, line.factor)
        if figures:
            yield Step(f"S({line.category}), {line.factor}", figures, _va(line.demand_va), clause)
            continue
        numbers = f"{_va(line.connected_va)}: {line.factor}" if not line.added else line.factor
        yield Step(f"S({line.category})", numbers, _va(line.demand_va), clause)
    terms = " + ".join(f"{line.demand_va:,.0f}" for line in demands) or "0"
    yield Step("S = sum of S(category)", f"{terms} VA", _va(load.demand_va), work.edition.clause("220.40"))
    system = node.system
    if system is None:
        return
    if system.kind == "single-phase-of-wye":
        words = "I = Sn / (2 Vn) + S between lines / V"
        yield Step(words, _two_parts(neutral_and_across(demands), system), amperes_text(load.demand_a))
    else:
        numbers = f"{load.demand_va:,.0f} / {_divisor(system)}"
        yield Step(f"I = {_formula(system)}", numbers, amperes_text(load.demand_a))
    yield from _sizing(work, load, demands, system, growth_pct)


def _sizing(
    work: Work, load: NodeLoad, demands: Sequence[Demand], system: VoltageSystem, growth_pct: float
) -> Iterator[Step]:
    balanced = even_a(demands, system, 0.25)
    words = "I sizing = (S + 0.25 S continuous) / V"
    numbers = f"({load.demand_va:,.0f} + 0.25 x {load.continuous_va:,.0f}) / {_divisor(system)}"
    if system.kind == "single-phase-of-wye":
        words = "I sizing, each part + 0.25 of what is continuous in it"
        numbers = _two_parts(neutral_and_across(demands, 0.25), system)
    yield Step(words, numbers, amperes_text(balanced), work.edition.clause("215.2"))
    if load.design_a > balanced * 1.0005:
        yield _of_the_lines(load, demands, system)
    if load.design_with_growth_a > load.design_a * 1.0005:
        words = f"{growth_pct:g} % on what is not managed, or the future loads, whichever is more"
        yield Step("I with growth", words, amperes_text(load.design_with_growth_a), "common practice, no source")


def _of_the_lines(load: NodeLoad, demands: Sequence[Demand], system: VoltageSystem) -> Step:
    """Each line with its demand, a quarter of its continuous load and a quarter of its largest motor."""
    letters = "ABC" if system.phases == 3 else "AB"
    motors = motor_additions(demands, system)
    sizing = sizing_lines(demands, system)
    lines = []
    for letter, own, sized, motor in zip(letters, load.phase_demand_a, sizing, motors, strict=False):
        terms = [own - motor, sized - own, motor]
        kept = [f"{value:.1f}" for value in terms if value > 0.05] or ["0"]
        lines.append(f"{letter}: {' + '.join(kept)}")
    words = "demand + 0.25 continuous + 0.25 largest motor" if any(motors) else "demand + 0.25 continuous"
    return Step(
        f"I sizing of the line that carries most, {words}", "; ".join(lines) + " A", amperes_text(load.design_a)
    )


def _two_parts(parts: tuple[float, float], system: VoltageSystem) -> str:
    """Load to neutral on two lines of a wye, and load between them."""
    to_neutral, across = parts
    return f"{to_neutral:,.0f} / (2 x {system.line_to_neutral_v:g} V) + {across:,.0f} / {system.line_to_line_v:g} V"


def _va(va: float) -> str:
    return f"{va:,.0f} VA"


def _formula(system: VoltageSystem) -> str:
    return "S / (sqrt(3) V)" if system.phases == 3 else "S / V"


def _divisor(system: VoltageSystem) -> str:
    return f"(1.732 x {system.line_to_line_v:g} V)" if system.phases == 3 else f"{system.line_to_line_v:g} V"


# --- the neutral ---------------------------------------------------------------------------------------------------


def neutral_derivation(work: Work, node: Node, load: NodeLoad, neutral: NeutralLoad) -> Derivation | None:
    """ "TAG.neutral": the load to neutral by category, spread evenly, on the line that carries most, and reduced."""
    if neutral.total_va <= 0 or node.system is None:
        return None
    return Derivation(
        subject=f"{node.tag}.neutral",
        title=f"Neutral load of {node.tag}" + ("" if load.complete else " (lower bound: some loads are not known)"),
        value=amperes_text(neutral.current_a),
        origin=Origin.CHOSEN,
        inputs=(Input("S", "demand of each category", f"see {node.tag}.demand", Origin.CHOSEN),),
        steps=tuple(_neutral_steps(work, node.system, neutral)),
        clause=work.edition.clause("220.61"),
        state=load.state,
        span=node.item.tag_span,
    )


def _neutral_steps(work: Work, system: VoltageSystem, neutral: NeutralLoad) -> Iterator[Step]:
    for category, on_lines, words in neutral.by_category:
        numbers = words or "what is connected to the neutral"
        key = "220.61(B)" if words else "220.61(A)"
        yield Step(f"Sn({category})", numbers, _va(sum(on_lines)), work.edition.clause(key))
    terms = " + ".join(f"{sum(on_lines):,.0f}" for _, on_lines, _ in neutral.by_category)
    clause = work.edition.clause("220.61(A)")
    yield Step("Sn = sum of Sn(category)", f"{terms} VA", _va(neutral.total_va), clause)
    volts = system.line_to_neutral_v
    lines = 1 if volts == system.line_to_line_v else 3 if system.phases == 3 else 2
    evenly = neutral.total_va / lines / volts
    yield Step("In spread evenly", f"{neutral.total_va:,.0f} / ({lines} x {volts:g} V)", amperes_text(evenly))
    here = [on_lines[neutral.worst] for _, on_lines, _ in neutral.by_category if on_lines[neutral.worst] > 0]
    terms = " + ".join(f"{va:,.0f}" for va in here)
    name = f"In of line {'ABC'[neutral.worst]}, the greatest"
    yield Step(name, f"({terms}) / {volts:g} V", amperes_text(neutral.unreduced_a))
    if neutral.current_a < neutral.unreduced_a - 0.005:
        kept = neutral.nonlinear[neutral.worst] / volts if system.kind == "wye" else 0.0
        words = "200 A at 100 %, the rest at 70 %" + (f", {kept:,.0f} A nonlinear not reduced" if kept > 0.5 else "")
        yield Step("In reduced", words, amperes_text(neutral.current_a), work.edition.clause("220.61(B)"))
    elif neutral.unreduced_a > 200:
        words = "two lines of a wye system" if system.kind == "single-phase-of-wye" else "nonlinear load"
        yield Step("In not reduced", words, amperes_text(neutral.current_a), work.edition.clause("220.61(C)"))
