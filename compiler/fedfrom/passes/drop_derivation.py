"""How a voltage drop came about, as a hand calculation: exact form, and the approximate one that cross-checks it."""

from __future__ import annotations

import math

from fedfrom.formulas.voltage_drop import approximate_drop, drop_factor
from fedfrom.model.items import Origin
from fedfrom.passes.drop_run import Run
from fedfrom.results.derivation import Derivation, Input, Step
from fedfrom.source import Span

TABLE_9 = "Chapter 9, Table 9"


def drop_derivation(
    subject: str,
    title: str,
    run: Run,
    drop: tuple[float, float],
    state: str,
    extra: tuple[Step, ...] = (),
    length: tuple[Origin, Span | None] = (Origin.CHOSEN, None),
    load_source: str = "",
    span: Span | None = None,
) -> Derivation:
    """The drop of a run in V and percent. `length`: where its length is written; `load_source`: where its load is."""
    return Derivation(
        subject=subject,
        title=title,
        value=f"{drop[0]:.2f} V, {drop[1]:.2f} %",
        origin=Origin.CHOSEN,
        inputs=_inputs(run, length, load_source),
        steps=(*(_steps(run, drop) if run.three_wire is None else _three_wire_steps(run, drop)), *extra),
        rounding="none",
        clause=TABLE_9,
        state=state,
        span=span,
    )


def _inputs(run: Run, length: tuple[Origin, Span | None], load_source: str) -> tuple[Input, ...]:
    wires = run.conductors
    stated = wires.origins.get("impedance")
    r, x = wires.r_ohm_per_kft or 0, wires.x_ohm_per_kft or 0
    source = "as stated for the conductors" if stated is Origin.WRITTEN else f"{TABLE_9}, {_column(run)}"
    carries = "load current" if run.current_a > 0 else "load current: it carries none in any state computed"
    return (
        Input("I", carries, f"{run.current_a:.2f} A", source=load_source if run.current_a > 0 else ""),
        Input("L", "length, one way", f"{run.length_ft:g} ft", *length),
        Input("R", "resistance of one conductor at 75 C", f"{r:g} ohm per 1000 ft", source=source),
        Input("X", "reactance of one conductor", f"{x:g} ohm per 1000 ft", source=source),
        Input("n", "sets in parallel", f"{wires.sets}"),
        Input("cos", "power factor", f"{run.power_factor:.4f}", source=load_source),
        Input("sin", "sqrt(1 - cos^2)", f"{math.sqrt(1 - run.power_factor**2):.4f}"),
        Input("E", "nominal voltage", f"{run.volts:g} V"),
    )


def _column(run: Run) -> str:
    return f"{run.conductors.phase} {run.conductors.material} in {run.conductors.raceway_kind}"


def _steps(run: Run, drop: tuple[float, float]) -> tuple[Step, ...]:
    r, x = run.conductors.r_ohm_per_kft or 0.0, run.conductors.x_ohm_per_kft or 0.0
    sets, cos = run.conductors.sets, run.power_factor
    sin = math.sqrt(1 - cos**2)
    factor = drop_factor(run.phases)
    along = approximate_drop(run.current_a, run.length_ft, r, x, cos, sets)
    across = run.current_a * (x * cos - r * sin) * run.length_ft / 1000 / sets
    neutral_v = run.volts / factor
    name = f"{factor:.4g}"
    tail = f"x {run.length_ft:g} / 1000" + (f" / {sets}" if sets > 1 else "")
    symbols = "L / 1000" + (" / n" if sets > 1 else "")
    current = f"{run.current_a:.2f}"
    return (
        Step(
            f"a = I (R cos + X sin) {symbols}",
            f"{current} x ({r:g} x {cos:.4f} + {x:g} x {sin:.4f}) {tail}",
            f"{along:.4f} V",
        ),
        Step(
            f"b = I (X cos - R sin) {symbols}",
            f"{current} x ({x:g} x {cos:.4f} - {r:g} x {sin:.4f}) {tail}",
            f"{across:.4f} V",
        ),
        Step(f"E' = E / {name}", f"{run.volts:g} / {name}", f"{neutral_v:.2f} V"),
        Step(
            f"V = {name} (E' + a - sqrt(E'^2 - b^2))",
            f"{name} x ({neutral_v:.2f} + {along:.4f} - sqrt({neutral_v:.2f}^2 - {abs(across):.4f}^2))",
            f"{drop[0]:.2f} V",
            "IEEE Std 141-1993, 3.11",
        ),
        Step(f"cross-check, approximate form: {name} a", f"{name} x {along:.4f}", f"{factor * along:.2f} V"),
        Step("percent = 100 V / E", f"100 x {drop[0]:.2f} / {run.volts:g}", f"{drop[1]:.2f} %"),
    )


def _three_wire_steps(run: Run, drop: tuple[float, float]) -> tuple[Step, ...]:
    """Two lines and a neutral: the three loads, and what each loaded pair loses."""
    load = run.three_wire
    assert load is not None
    loads = f"A-N {load.a_va:.0f} VA, B-N {load.b_va:.0f} VA, A-B {load.ab_va:.0f} VA"
    back = run.neutral_ohm_per_kft
    neutral = "as the lines" if back is None else f"{back[0]:g} + j{back[1]:g} ohm per 1000 ft"
    steps = [
        Step("loads of the run", loads, f"power factor {run.power_factor:.4f}"),
        Step("neutral", f"carries the sum of the currents to neutral; its R and X: {neutral}", ""),
    ]
    for pair in run.pairs():
        steps.append(
            Step(
                f"V({pair.between}) = E - |E - Z x current - Zn x neutral current|",
                f"phasors, currents lagging their own voltage; E = {pair.nominal_v:.1f} V",
                f"{pair.lost_v:.2f} V, {pair.percent:.2f} %",
                "IEEE Std 141-1993, 3.11",
            )
        )
    steps.append(Step("greatest in percent", "of the above", f"{drop[0]:.2f} V, {drop[1]:.2f} %"))
    return tuple(steps)
