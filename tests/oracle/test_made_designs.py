"""Made radial designs through the whole compiler, against an independent solver and an independent nodal solution."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.support.designs import Made, designs
from tests.support.sizing import compile_text
from tests.support.solver import flow_voltages, runs_of, solved_impedances

from fedfrom.formulas.three_wire_drop import ThreeWireLoad, three_wire_drop

pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore::FutureWarning")]
AGREE = 1e-9


@settings(max_examples=2, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(st.lists(designs(most=7), min_size=4, max_size=4))
def test_faults_and_voltages_of_made_designs(several: list[Made]) -> None:
    compiled = [compile_text(made.text())[0] for made in several]
    runs = {}
    for number, (design, solved) in enumerate(zip(compiled, solved_impedances(*compiled), strict=True)):
        for tag, states in design.results.faults.items():
            for state, fault in states.items():
                z = complex(*fault.z_ohm)
                assert abs(solved[state, tag] - z) <= AGREE * abs(z)
        runs.update({f"{number}: {key}": run for key, run in runs_of(design).items()})
    lost = {}
    for key, run in runs.items():
        drop = run.drop()
        assert drop is not None
        lost[key] = drop[0] / (math.sqrt(3) if run.phases == 3 else 2)
    for key, received in flow_voltages(runs, lost).items():
        run = runs[key]
        to_neutral = run.volts / (math.sqrt(3) if run.phases == 3 else 2)
        assert received == pytest.approx(1 - lost[key] / to_neutral, rel=AGREE)


VA = st.floats(0, 9_000)


@settings(max_examples=25, deadline=None, derandomize=True)
@given(
    VA, VA, VA, st.floats(0.3, 1.0), st.floats(0.001, 0.08), st.floats(0.001, 0.03), st.floats(0.5, 2), st.booleans()
)
def test_three_wire_drop_against_constant_impedances(
    a_va: float, b_va: float, ab_va: float, factor: float, r: float, x: float, share: float, of_wye: bool
) -> None:
    """Loads as the impedances that they are at the voltage found: a linear network, solved by elimination (numpy)."""
    import numpy as np

    points = (120 + 0j, cmath.rect(120, -2 * math.pi / 3)) if of_wye else (120 + 0j, -120 + 0j)
    line, neutral = complex(r, x), share * complex(r, x)
    load = ThreeWireLoad(points[0], points[1], a_va, b_va, ab_va)
    lost = {pair.between: pair for pair in three_wire_drop(load, factor, line, neutral)}
    across = abs(points[0] - points[1])
    turn = cmath.rect(1, -math.acos(factor))

    def admittance(va: float, nominal: float, between: str) -> complex:
        there = nominal - lost[between].lost_v if between in lost else nominal
        return va / nominal / there * turn

    y_a, y_b, y_ab = admittance(a_va, 120, "A-N"), admittance(b_va, 120, "B-N"), admittance(ab_va, across, "A-B")
    y, y_n = 1 / line, 1 / neutral
    matrix = np.array([[y + y_a + y_ab, -y_ab, -y_a], [-y_ab, y + y_b + y_ab, -y_b], [-y_a, -y_b, y_n + y_a + y_b]])
    a, b, middle = np.linalg.solve(matrix, np.array([y * points[0], y * points[1], 0]))
    found = {"A-N": abs(a - middle), "B-N": abs(b - middle), "A-B": abs(a - b)}
    for between, pair in lost.items():
        assert found[between] == pytest.approx(pair.nominal_v - pair.lost_v, rel=AGREE)
