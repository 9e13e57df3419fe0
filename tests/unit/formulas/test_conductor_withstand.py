"""Conductors under fault current."""

from __future__ import annotations

import pytest

from fedfrom.formulas.conductor_withstand import withstand_amperes, withstand_seconds

CU_75 = (0.0297, 234.0, 75.0, 150.0)
CU_90 = (0.0297, 234.0, 90.0, 250.0)


@pytest.mark.parametrize(
    ("kcmil", "seconds", "constants", "amperes"),
    [
        # source: ICEA P-32-382 as its charts are commonly reprinted, from memory; read to two figures.
        (6.53, 1 / 60, CU_75, 2_700),  # 12 AWG, thermoplastic, one cycle
        (105.6, 1 / 60, CU_75, 43_000),  # 1/0 AWG
        (500.0, 1.0, CU_90, 36_000),  # 500 kcmil, crosslinked, one second
    ],
)
def test_charts(kcmil: float, seconds: float, constants: tuple[float, float, float, float], amperes: float) -> None:
    assert withstand_amperes(seconds, kcmil, *constants) == pytest.approx(amperes, rel=0.03)


def test_heat_goes_with_the_square_of_the_current() -> None:
    one = withstand_seconds(10_000, 105.6, *CU_75)
    assert withstand_seconds(20_000, 105.6, *CU_75) == pytest.approx(one / 4)
    assert withstand_amperes(one, 105.6, *CU_75) == pytest.approx(10_000)
