"""Loads on phases: sums are kept, currents are those of phasors."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fedfrom.formulas.load_phases import (
    as_load,
    by_phase,
    component_current,
    evenly,
    line_currents,
    on_pair,
    ordered_pair,
    place_on,
    terminals,
    through_delta_wye,
    through_single_phase,
)

WYE_208 = terminals("wye", 208, 120)
LOADS = st.tuples(*[st.floats(0, 1e6)] * 7).map(as_load)


def test_single_line_to_line_load_on_a_wye() -> None:
    """10 kVA between A and B at 208 V: 48.08 A in A and in B, nothing in C (Ohm's law)."""
    currents = line_currents(place_on("AB", 10_000, False), WYE_208)
    assert currents == pytest.approx((48.08, 48.08, 0), abs=0.01)


def test_three_equal_line_to_line_loads_are_a_three_phase_load() -> None:
    load = tuple(a + b for a, b in zip(place_on("AB", 1000, False), place_on("BC", 1000, False), strict=True))
    load = as_load(a + b for a, b in zip(load, place_on("CA", 1000, False), strict=True))
    assert line_currents(load, WYE_208) == pytest.approx([3000 / (math.sqrt(3) * 208)] * 3)
    assert line_currents(place_on("ABC", 3000, False), WYE_208) == pytest.approx([3000 / (math.sqrt(3) * 208)] * 3)


def test_three_wire_single_phase() -> None:
    """120/240 V: 12 A at 120 V on A and 6 A at 240 V: 18 A in A, 6 A in B."""
    load = as_load((1440, 0, 0, 1440, 0, 0, 0))
    assert line_currents(load, terminals("single-phase", 240, 120)) == pytest.approx((18, 6, 0))


def test_high_leg() -> None:
    """240/120 V: lighting on A and C to the neutral, three-phase load on all; the high leg is 208 V to neutral."""
    points = terminals("high-leg delta", 240, 120)
    assert abs(points[1]) == pytest.approx(208, abs=0.5)
    assert line_currents(as_load((1200, 0, 0, 0, 0, 0, 0)), points) == pytest.approx((10, 0, 0))
    three = line_currents(as_load((0, 0, 0, 0, 0, 0, 4157)), points)
    assert three == pytest.approx([4157 / (math.sqrt(3) * 240)] * 3)


def test_pairs_keep_their_order() -> None:
    assert [ordered_pair(text) for text in ("BA", "CB", "AC", "CA", "ABC", "BCA")] == [
        "AB",
        "BC",
        "CA",
        "CA",
        "ABC",
        "ABC",
    ]


@given(LOADS)
def test_phases_add_up_to_the_load(load: tuple[float, ...]) -> None:
    assert sum(by_phase(as_load(load))) == pytest.approx(sum(load), rel=1e-9, abs=1e-6)


@given(LOADS, st.sampled_from(["AB", "BC", "CA", "A", "C"]))
def test_nothing_is_lost_on_the_way_up(load: tuple[float, ...], phases: str) -> None:
    whole = as_load(load)
    for seen in (on_pair(whole, phases), through_delta_wye(whole)):
        assert sum(seen) == pytest.approx(sum(load), rel=1e-9, abs=1e-6)
    if len(phases) == 2:
        assert sum(through_single_phase(whole, phases)) == pytest.approx(sum(load), rel=1e-9, abs=1e-6)


@given(LOADS)
def test_the_heaviest_line_is_never_below_the_balanced_current(load: tuple[float, ...]) -> None:
    whole = as_load(load)
    balanced = sum(load) / (math.sqrt(3) * 208)
    assert max(line_currents(whole, WYE_208)) >= balanced * (1 - 1e-9) - 1e-9


def test_divided_loads_are_spread_evenly() -> None:
    """source: NEC 210.11(B); the sum stays, the phases that are used share it."""
    assert evenly((10, 2, 0, 0, 0, 0, 0)) == (6, 6, 0, 0, 0, 0, 0)
    assert evenly((9, 0, 0, 0, 0, 0, 0), "ABC") == (3, 3, 3, 0, 0, 0, 0)
    assert evenly((0, 0, 0, 8, 0, 4, 3)) == (0, 0, 0, 6, 0, 6, 3)


def test_current_of_one_piece_wherever_pieces_hang() -> None:
    """source: Ohm's law: 1200 VA to neutral is 10 A on each line that has such a piece, 5 A between lines of 240 V."""
    points = terminals("single-phase", 240, 120)
    assert component_current((2400, 1200, 0, 0, 0, 0, 0), 1200, points) == pytest.approx((10, 10, 0))
    assert component_current((0, 0, 0, 2400, 0, 0, 0), 1200, points) == pytest.approx((5, 5, 0))
