"""Lengths to buy, against the figures of the estimating trade."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fedfrom.formulas.take_off import conductor_length, couplings, raceway_length, spare_fuses


def test_a_hundred_feet_of_raceway_with_three_wires_and_a_ground() -> None:
    """source: estimating series of an electrical trade magazine (2011): 100 ft of raceway in a three-wire-plus-ground
    run takes about 300 ft of conductor and slack, and 100 ft of ground."""
    phases = conductor_length(3, 100.0, 0.0, 0.0)
    ground = conductor_length(1, 100.0, 0.0, 0.0)
    assert (phases.gross_ft, ground.gross_ft) == (300.0, 100.0)
    with_slack = conductor_length(3, 100.0, 10.0, 10.0)
    assert with_slack.net_ft == 300.0
    assert with_slack.allowance_ft == pytest.approx(63.0)


def test_waste_of_ten_percent() -> None:
    """source: an estimating course's page: 10 % waste on conductors."""
    assert conductor_length(4, 250.0, 0.0, 10.0).gross_ft == pytest.approx(1100.0)


def test_raceway_and_couplings() -> None:
    """source: common practice, no source (raceway in 10 ft lengths, 5 % waste)."""
    assert raceway_length(2, 95.0, 5.0).gross_ft == pytest.approx(199.5)
    assert couplings(2, 95.0, 10.0) == 18
    assert couplings(1, 10.0, 10.0) == 0
    assert couplings(1, 0.0, 10.0) == 0


@pytest.mark.parametrize(("installed", "spare"), [(0, 0), (3, 3), (30, 3), (31, 4), (60, 6)])
def test_spare_fuses(installed: int, spare: int) -> None:
    """source: common practice, no source (10 %, not fewer than three of each)."""
    assert spare_fuses(installed, 10.0, 3) == spare


@given(
    conductors=st.integers(1, 40),
    run=st.floats(0, 5000),
    make_up=st.floats(0, 40),
    waste=st.floats(0, 30),
)
def test_more_is_never_less(conductors: int, run: float, make_up: float, waste: float) -> None:
    one = conductor_length(conductors, run, make_up, waste)
    assert one.allowance_ft >= -1e-6
    assert conductor_length(conductors + 1, run, make_up, waste).gross_ft >= one.gross_ft
    assert conductor_length(conductors, run + 1, make_up, waste).gross_ft > one.gross_ft
