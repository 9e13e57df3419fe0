"""The design current of a feeder as a step that can be recomputed: from the load of what it feeds, with growth."""

from __future__ import annotations

from fedfrom.passes.feeder_plan import FeederPlan
from fedfrom.passes.work import Work
from fedfrom.results.derivation import Input, Step
from fedfrom.results.notation import amperes_text
from fedfrom.results.types import CircuitResult, NodeLoad


def current_step(work: Work, plan: FeederPlan, current_a: float, clause: str, full: bool = False) -> Step:
    """How the current that a device or conductors are chosen for follows from the load of the target.

    `full`: without the 25 % on continuous load, for a device rated 100 %. A current that is not the load's own
    (paralleled generators, what connects back) is stated as it is.
    """
    load = work.node_load(plan.target.tag)
    if load is None or not load.complete or plan.feed.verb == "connects to":
        return Step("I = current needed", "", amperes_text(current_a), clause)
    growth = load.design_with_growth_a / load.design_a if load.design_a > 0 else 1.0
    step = _of_transformer(load, plan, growth, full) if plan.target.role == "transformer" else None
    if step is None:
        own = load.demand_a if full else load.design_a
        name = "demand" if full else "I sizing"
        step = (f"I = {name} of {plan.target.tag} x growth", f"{own:.1f} A x {growth:.3f}", own * growth)
    formula, numbers, found = step
    if abs(found - current_a) > 0.005 * max(current_a, 1.0):
        return Step("I = current needed", "", amperes_text(current_a), clause)
    return Step(formula, numbers, amperes_text(current_a), clause)


def unknown_current_step(work: Work, plan: FeederPlan, clause: str) -> Step:
    """The current of a feeder some of whose load is not known: never 0 A, at most what it is not below."""
    load = work.node_load(plan.target.tag)
    least = load.design_a if load is not None else 0.0
    known = f"some loads are not known; not below {amperes_text(least)}" if least > 0 else "no load is known"
    return Step(f"I = current needed by {plan.target.tag}", known, "not known; the device decides", clause)


def _of_transformer(load: NodeLoad, plan: FeederPlan, growth: float, full: bool) -> tuple[str, str, float] | None:
    """Through a transformer the apparent power counts, balanced, at the feeder's own voltage."""
    if not plan.volts:
        return None
    three = plan.phases == 3
    va = load.demand_va + (0.0 if full else 0.25 * load.continuous_va)
    divisor = plan.volts * (3**0.5 if three else 1.0)
    below = f"(1.732 x {plan.volts:g} V)" if three else f"{plan.volts:g} V"
    if full:
        return (
            f"I = S x growth / {_volts(three)}",
            f"{load.demand_va:,.0f} VA x {growth:.3f} / {below}",
            va / divisor * growth,
        )
    numbers = f"({load.demand_va:,.0f} + 0.25 x {load.continuous_va:,.0f}) x {growth:.3f} / {below}"
    return f"I = (S + 0.25 S continuous) x growth / {_volts(three)}", numbers, va / divisor * growth


def _volts(three: bool) -> str:
    return "(1.732 E)" if three else "E"


def load_inputs(work: Work, plan: FeederPlan) -> tuple[Input, ...]:
    """The load and the growth that a feeder's current follows from, each with where it is worked out."""
    load = work.node_load(plan.target.tag)
    if load is None or not load.complete:
        return ()
    source = f"see {plan.target.tag}.demand"
    growth = load.design_with_growth_a / load.design_a if load.design_a > 0 else 1.0
    found = []
    if plan.target.role == "transformer":
        found = [
            Input("S", f"demand of {plan.target.tag}", f"{load.demand_va:,.0f} VA", source=source),
            Input("S continuous", "part of it that is continuous", f"{load.continuous_va:,.0f} VA", source=source),
            Input("E", "voltage of the feeder", f"{plan.volts:g} V"),
        ]
    else:
        found = [Input("I sizing", f"sizing current of {plan.target.tag}", f"{load.design_a:.1f} A", source=source)]
    if growth > 1.0005:
        found.append(Input("growth", "room for growth", f"{growth:.3f}", source=source))
    return tuple(found)


def circuit_steps(row: CircuitResult, volts: float, phases: int) -> tuple[Step, ...]:
    """The load current of a circuit from its VA, where it follows from it (not from a table or a nameplate)."""
    if not row.connected_va or not row.load_a or not volts or row.table_a is not None or row.mca_a is not None:
        return ()
    divisor = volts * (3**0.5 if phases == 3 else 1.0)
    if abs(row.connected_va / divisor - row.load_a) > 0.002 * row.load_a:
        return ()
    below = f"(1.732 x {volts:g} V)" if phases == 3 else f"{volts:g} V"
    formula = "I = S / (1.732 E)" if phases == 3 else "I = S / E"
    return (Step(formula, f"{row.connected_va:,.0f} VA / {below}", amperes_text(row.load_a)),)
