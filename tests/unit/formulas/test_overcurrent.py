"""Standard ratings and the protection of conductors."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fedfrom.formulas.overcurrent import (
    conductor_is_protected,
    device_minimum,
    greatest_device,
    next_standard_rating,
    standard_rating_not_over,
)
from fedfrom.tables import load_edition
from fedfrom.tables.lookup import standard_ratings

RATINGS = standard_ratings(load_edition("NEC 2023"))


def test_standard_ratings_of_the_editions() -> None:
    # source: NEC Table 240.6(A); 10 A breakers from 2023, 601 A for fuses only
    assert RATINGS[:4] == (10, 15, 20, 25)
    assert RATINGS[-5:] == (2500, 3000, 4000, 5000, 6000)
    assert standard_ratings(load_edition("NEC 2020"))[0] == 15
    assert 601 in standard_ratings(load_edition("NEC 2023"), "fuse")
    assert 601 not in RATINGS


def test_next_up_and_not_over() -> None:
    assert next_standard_rating(135.2, RATINGS) == 150  # source: NEC Annex D, example D3: 135 A -> 150 A
    assert next_standard_rating(194, RATINGS) == 200  # source: published house calculation: 194 A -> 200 A
    assert next_standard_rating(45.0000001, RATINGS) == 45
    assert next_standard_rating(6001, RATINGS) is None
    assert standard_rating_not_over(190, RATINGS) == 175  # source: NEC Annex D, example D8
    assert standard_rating_not_over(9, RATINGS) is None


def test_continuous_load_asks_for_125_percent() -> None:
    # source: NEC Annex D, example D3: 12 200 VA noncontinuous, 16 200 VA continuous, 240 V -> 135 A
    assert device_minimum(12200 / 240, 16200 / 240) == pytest.approx(135.2, abs=0.05)
    assert device_minimum(0, 100, hundred_percent_rated=True) == 100


@pytest.mark.parametrize(
    ("ampacity", "greatest"),
    [
        (380, 400),  # 500 kcmil copper at 75 C; NEC 240.4(B)
        (230, 250),
        (200, 200),  # a standard rating: no next size up
        (760, 800),
        (801, 800),  # NEC 240.4(C): over 800 A the rating may not pass the ampacity
        (1140, 1000),
    ],
)
def test_next_size_up_to_800_a(ampacity: float, greatest: float) -> None:
    assert greatest_device(ampacity, RATINGS) == greatest


def test_next_size_up_is_refused_for_secondaries() -> None:
    # source: NEC 240.21(C); 75 kVA secondary example: 4/0 AWG, 230 A -> not over 225 A
    assert greatest_device(230, RATINGS, next_size_up=False) == 225
    assert not conductor_is_protected(230, 250, RATINGS, next_size_up=False)
    assert conductor_is_protected(230, 250, RATINGS)
    assert not conductor_is_protected(230, 300, RATINGS)


@given(st.floats(1, 6000), st.floats(1, 6000))
def test_more_load_never_gives_a_smaller_device(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert (next_standard_rating(low, RATINGS) or 0) <= (next_standard_rating(high, RATINGS) or 1e9)
    assert (greatest_device(low, RATINGS) or 0) <= (greatest_device(high, RATINGS) or 0)
