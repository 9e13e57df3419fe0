"""Laws that every design keeps, on made designs that go through the whole compiler."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.support.designs import Made, designs
from tests.support.sizing import compile_text

from fedfrom.findings import Finding, Severity
from fedfrom.results.types import FeederResult, Results

pytestmark = pytest.mark.slow
FEW = settings(max_examples=6, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
ROUNDING = 1e-9


def results_of(made: Made) -> Results:
    return compile_text(made.text())[0].results


def up_from(made: Made, gear: int) -> list[int]:
    """A piece of gear and all that lies above it."""
    path = [gear]
    while path[-1] != 0:
        path.append(made.gear[path[-1]].parent)
    return path


@st.composite
def with_a_gear(draw: st.DrawFn) -> tuple[Made, int]:
    made = draw(designs())
    return made, draw(st.integers(1, len(made.gear) - 1))


@FEW
@given(with_a_gear(), st.floats(1.0, 4.0))
def test_more_load_never_gives_a_smaller_conductor(case: tuple[Made, int], times: float) -> None:
    made, gear = case
    first = replace(made.gear[gear].loads[0], kind="equipment", amount="12 kVA")
    less = results_of(made.with_load(gear, 0, first))
    more = results_of(made.with_load(gear, 0, replace(first, amount=f"{12 * times:.3f} kVA")))
    for index in up_from(made, gear):
        before, after = less.feeders[f"P{index}"].conductors, more.feeders[f"P{index}"].conductors
        assert before is not None
        assert after is not None
        assert after.ampacity_a >= before.ampacity_a
    row_before, row_after = (found.circuits[f"P{gear}"][0].conductors for found in (less, more))
    assert row_before is not None
    assert row_after is not None
    assert row_after.ampacity_a >= row_before.ampacity_a


@FEW
@given(with_a_gear(), st.floats(1.0, 5.0))
def test_longer_never_loses_less(case: tuple[Made, int], times: float) -> None:
    made, gear = case
    longer = made.with_gear(gear, replace(made.gear[gear], feet=made.gear[gear].feet * times))
    short, long = results_of(made), results_of(longer)
    for key, feeder in short.feeders.items():
        after = long.feeders[key]
        assert feeder.drop_pct is not None
        assert after.drop_pct is not None
        assert after.drop_pct >= feeder.drop_pct - ROUNDING
        assert (after.cumulative_drop_pct or 0) >= (feeder.cumulative_drop_pct or 0) - ROUNDING
        # Without motors: one behind a longer run can add its current at a better angle.
        assert (after.least_fault_a or 0) <= (feeder.least_fault_a or 0) * (1 + ROUNDING)


@FEW
@given(designs(), st.floats(1.0, 5.0))
def test_more_fault_at_the_source_never_less_below(made: Made, times: float) -> None:
    less, more = results_of(made), results_of(replace(made, fault_a=made.fault_a * times))
    for tag, states in less.faults.items():
        for name, fault in states.items():
            stronger = more.faults[tag][name]
            assert stronger.greatest_a >= fault.greatest_a * (1 - ROUNDING)
            assert stronger.three_phase_a >= fault.three_phase_a * (1 - ROUNDING)


@FEW
@given(designs(), st.randoms(use_true_random=False))
def test_order_of_statements_never_matters(made: Made, chance: object) -> None:
    order = list(range(len(made.blocks())))
    chance.shuffle(order)  # type: ignore[attr-defined]
    first, other = results_of(made), compile_text(made.text(order))[0].results
    for tag, states in first.loads.items():
        assert other.loads[tag]["Normal"].connected_va == pytest.approx(states["Normal"].connected_va, rel=ROUNDING)
        assert other.loads[tag]["Normal"].demand_va == pytest.approx(states["Normal"].demand_va, rel=ROUNDING)
        assert other.loads[tag]["Normal"].phase_va == pytest.approx(states["Normal"].phase_va, rel=ROUNDING)
    for tag, faults in first.faults.items():
        assert other.faults[tag]["Normal"].greatest_a == pytest.approx(faults["Normal"].greatest_a, rel=ROUNDING)
    for key, feeder in first.feeders.items():
        assert chosen(other.feeders[key]) == chosen(feeder)
        assert other.feeders[key].drop_pct == pytest.approx(feeder.drop_pct, rel=ROUNDING)
    for tag, gear in first.gear.items():
        assert (other.gear[tag].bus_a, other.gear[tag].sccr_a) == (gear.bus_a, gear.sccr_a)


def chosen(feeder: FeederResult) -> tuple[object, ...]:
    wires, device = feeder.conductors, feeder.device
    assert wires is not None
    sizes = (wires.sets, wires.phase, wires.neutral, wires.ground, wires.raceway_size)
    return (*sizes, device.rating_a if device else None, device.interrupting_a if device else None)


@FEW
@given(designs())
def test_connected_load_is_conserved_and_phases_add_up(made: Made) -> None:
    results = results_of(made)
    for index in range(len(made.gear)):
        own = sum(row.connected_va or 0 for row in results.circuits[f"P{index}"] if row.kind == "load")
        below = [child for child in range(1, len(made.gear)) if made.gear[child].parent == index]
        total = own + sum(results.loads[f"P{child}"]["Normal"].connected_va for child in below)
        here = results.loads[f"P{index}"]["Normal"]
        assert here.connected_va == pytest.approx(total, rel=ROUNDING)
        assert sum(here.phase_va) == pytest.approx(here.connected_va, rel=ROUNDING)
        assert sum(line.connected_va for line in here.categories) == pytest.approx(here.connected_va, rel=ROUNDING)
    assert results.loads["UT"]["Normal"].connected_va == results.loads["P0"]["Normal"].connected_va


@FEW
@given(designs(most=3))
def test_a_pinned_value_equal_to_the_chosen_one_changes_nothing(made: Made) -> None:
    design, findings = compile_text(made.text())
    pinned = made
    for index, gear in enumerate(made.gear):
        if not gear.kva:
            pinned = pinned.with_gear(index, replace(gear, feed=written(design.results.feeders[f"P{index}"])))
    again, told = compile_text(pinned.text())
    for key, feeder in design.results.feeders.items():
        assert chosen(again.results.feeders[key]) == chosen(feeder)
        assert again.results.feeders[key].drop_pct == feeder.drop_pct
    for tag, states in design.results.faults.items():
        assert again.results.faults[tag]["Normal"].greatest_a == states["Normal"].greatest_a
    assert grave(told) == grave(findings)


def written(feeder: FeederResult) -> str:
    """What was chosen, as an engineer would pin it."""
    wires, device = feeder.conductors, feeder.device
    assert wires is not None
    parts = [f"sets {wires.sets}", f"phase {sized(wires.phase)}", f"raceway {wires.raceway_size} inch"]
    parts += [f"neutral {sized(wires.neutral)}"] if wires.neutral else []
    parts += [f"ground {sized(wires.ground)}"] if wires.ground else []
    if device is not None:
        frame = f", frame {device.frame_a:g} A" if device.frame_a else ""
        parts.append(f"breaker {device.rating_a:g} A{frame}, interrupting {(device.interrupting_a or 0) / 1000:g} kA")
    return ", ".join(parts)


def sized(name: str) -> str:
    return f"{name} kcmil" if name.isdigit() and int(name) >= 250 else f"{name} AWG"


def grave(findings: tuple[Finding, ...]) -> list[tuple[str, str]]:
    return sorted((found.rule, found.subject) for found in findings if found.severity > Severity.NOTE)
