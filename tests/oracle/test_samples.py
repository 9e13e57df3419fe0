"""Voltages and faults of every sample against an independent solver, to nine figures."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest
from tests.support.compiled import design_of
from tests.support.solver import default_currents, flow_voltages, runs_of, solved_impedances

pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore::FutureWarning")]

SPECS = Path(__file__).parents[2] / "specs"
SAMPLES = sorted(path.name for path in SPECS.iterdir() if path.suffix == ".fed" or (path / "project.fed").exists())
AGREE = 1e-9


@pytest.mark.parametrize("name", SAMPLES)
def test_source_side_of_every_bus_in_every_state(name: str) -> None:
    design = design_of(SPECS / name)
    compared = 0
    (solved,) = solved_impedances(design)
    for state in design.plan.states:
        for tag, faults in design.results.faults.items():
            ours = faults.get(state.name)
            if ours is None:
                continue
            theirs, z = solved[state.name, tag], complex(*ours.z_ohm)
            assert abs(theirs - z) <= AGREE * abs(z), (state.name, tag)
            level = design.network.nodes[tag].system or design.network.nodes[tag].line_system
            if ours.phases == 3 and level is not None:
                amperes = level.line_to_line_v / math.sqrt(3) / abs(theirs)
                assert ours.three_phase_a == pytest.approx(amperes, rel=AGREE)
            compared += 1
    assert compared >= len(design.results.faults)


@pytest.mark.parametrize("name", SAMPLES)
def test_voltage_at_the_end_of_every_run(name: str) -> None:
    runs = runs_of(design_of(SPECS / name))
    assert len(runs) >= 3
    lost = {}
    for key, run in runs.items():
        drop = run.drop()
        assert drop is not None
        lost[key] = drop[0] / (math.sqrt(3) if run.phases == 3 else 2)
    for key, received in flow_voltages(runs, lost).items():
        run = runs[key]
        to_neutral = run.volts / (math.sqrt(3) if run.phases == 3 else 2)
        assert received == pytest.approx(1 - lost[key] / to_neutral, rel=AGREE), key


def test_the_default_call_of_the_library_is_another_method() -> None:
    """Negative: with its own factors left in, the library's figures are not ours."""
    design = design_of(SPECS / "bottling-works.fed")
    theirs = default_currents(design)
    apart = [
        abs(theirs["Normal", tag] / faults["Normal"].three_phase_a - 1)
        for tag, faults in design.results.faults.items()
        if "Normal" in faults
    ]
    assert max(apart) > 0.05


def test_an_approximate_drop_would_be_found_out() -> None:
    """Negative: the linear form I (R cos + X sin) does not stand the comparison."""
    runs = runs_of(design_of(SPECS / "bottling-works.fed"))
    lost = {}
    for key, run in runs.items():
        r, x = run.conductors.r_ohm_per_kft or 0, run.conductors.x_ohm_per_kft or 0
        sine = math.sqrt(1 - run.power_factor**2)
        lost[key] = run.current_a * (r * run.power_factor + x * sine) * run.length_ft / 1000 / run.conductors.sets
    worst = 0.0
    for key, received in flow_voltages(runs, lost).items():
        run = runs[key]
        to_neutral = run.volts / (math.sqrt(3) if run.phases == 3 else 2)
        worst = max(worst, abs(received - (1 - lost[key] / to_neutral)))
    assert worst > 100 * AGREE


@pytest.mark.parametrize("name", SAMPLES)
def test_no_line_of_a_calculation_is_empty_or_nothing(name: str) -> None:
    """Every value says where it is from, and no line tells 0 A of a load, None or nan."""
    odd = re.compile(r"\b(None|nan|inf)\b|(?<![\d.,])0(\.0)? A\b")
    for subject, found in design_of(SPECS / name).results.derivations.items():
        lines = [found.value, found.rounding, *(f"{entry.name} {entry.value}" for entry in found.inputs)]
        lines += [f"{step.formula} {step.numbers} {step.result}" for step in found.steps]
        lines += [f"{rejected.option} {rejected.reason}" for rejected in found.rejected]
        assert not [line for line in lines if odd.search(line)], subject
        assert found.value, subject
        assert found.clause or any(step.clause for step in found.steps), subject
