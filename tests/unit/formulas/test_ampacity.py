"""Ampacity, correction, adjustment and terminals, against worked examples."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fedfrom.formulas import ampacity as formulas
from fedfrom.tables import load_edition, lookup

EDITION = load_edition("NEC 2023")


def smallest(needed_a: float, material: str, temp_c: int) -> str:
    return next(s for s in lookup.sizes(EDITION) if (lookup.ampacity(EDITION, material, s, temp_c) or 0) >= needed_a)


@pytest.mark.parametrize(
    ("needed", "material", "temp_c", "size"),
    [
        (135.2, "Cu", 75, "1/0"),  # source: NEC Annex D, example D3
        (145.25, "Cu", 75, "1/0"),  # source: NEC Annex D, example D7 (from memory)
        (145.25, "Al", 75, "3/0"),  # the same
        (0.83 * 200, "Cu", 75, "2/0"),  # source: published house calculation, 200 A
        (27.5, "Cu", 60, "10"),  # source: trade forum, 7.5 hp 230 V motor
        (42.5, "Cu", 60, "6"),  # source: trade magazine 2004, 3 hp 115 V motor
        (36, "Cu", 60, "8"),  # source: trade forum, two 1 hp motors
        (31.4, "Cu", 75, "10"),  # source: trade magazine 2025, air conditioner with 31.4 A
        (44, "Cu", 75, "8"),  # source: trade magazine, air conditioner with 44 A
        (28.4, "Cu", 75, "10"),  # source: trade magazine, arc welder at 50 % duty
        (208.18, "Cu", 75, "4/0"),  # recomputed: 75 kVA at 208 V
    ],
)
def test_smallest_conductor_of_worked_examples(needed: float, material: str, temp_c: int, size: str) -> None:
    assert smallest(needed, material, temp_c) == size


def test_nine_conductors_in_a_raceway() -> None:
    # source: trade magazine, Code Q&A: nine 12 AWG THHN, 30 A x 0.7 = 21 A; 75 C terminal column 25 A
    table = lookup.ampacity(EDITION, "Cu", "12", 90)
    assert table == 30
    corrected = formulas.corrected_ampacity(table, 1.0, lookup.adjustment_factor(EDITION, 9))
    assert corrected == pytest.approx(21)
    assert formulas.usable_ampacity(corrected, lookup.ampacity(EDITION, "Cu", "12", 75) or 0) == pytest.approx(21)
    assert formulas.usable_ampacity(corrected, lookup.ampacity(EDITION, "Cu", "12", 60) or 0) == pytest.approx(20)


def test_factors_of_the_tables() -> None:
    # source: NEC Tables 310.15(B)(1)(1) and 310.15(C)(1)
    assert lookup.ambient_factor(EDITION, 30, 75) == 1.0
    assert lookup.ambient_factor(EDITION, 35, 90) == 0.96
    assert lookup.ambient_factor(EDITION, 50, 75) == 0.75
    assert lookup.ambient_factor(EDITION, 60, 60) is None
    assert lookup.ambient_factor(EDITION, 100, 90) is None
    assert [lookup.adjustment_factor(EDITION, n) for n in (3, 4, 7, 10, 21, 31, 41)] == [
        1,
        0.8,
        0.7,
        0.5,
        0.45,
        0.4,
        0.35,
    ]


def test_terminal_column() -> None:
    # source: NEC 110.14(C)(1): to 100 A the 60 C column, unless listed and marked for 75 C; over 100 A 75 C
    assert formulas.terminal_column(100, 60) == 60
    assert formulas.terminal_column(100, 75) == 75
    assert formulas.terminal_column(110, 60) == 75
    assert formulas.terminal_column(None, 60) == 60


def test_counting_current_carrying_conductors() -> None:
    # source: NEC 310.15(E)(1) to (3)
    assert formulas.current_carrying(3, True, 3, wye=True, nonlinear=False) == 3
    assert formulas.current_carrying(3, True, 3, wye=True, nonlinear=True) == 4
    assert formulas.current_carrying(2, True, 1, wye=True, nonlinear=False) == 3
    assert formulas.current_carrying(2, True, 1, wye=False, nonlinear=False) == 2
    assert formulas.current_carrying(1, True, 1, wye=True, nonlinear=False) == 2
    assert formulas.current_carrying(3, False, 3, wye=False, nonlinear=True) == 3


def test_parallel_from_one_aught() -> None:
    # source: NEC 310.10(G)(1)
    assert formulas.may_be_paralleled(105.6)
    assert not formulas.may_be_paralleled(83.69)


def test_dwelling_rule() -> None:
    # source: NEC Annex D, example D7 (from memory): 175 A x 0.83 = 145.25 A
    assert formulas.dwelling_ampacity(175) == pytest.approx(145.25)
    with pytest.raises(ValueError, match="600"):
        formulas.dwelling_ampacity(600)


def test_small_conductors() -> None:
    # source: NEC 240.4(D)
    assert [lookup.small_conductor_limit(EDITION, "Cu", size) for size in ("14", "12", "10", "8")] == [15, 20, 30, None]
    assert [lookup.small_conductor_limit(EDITION, "Al", size) for size in ("12", "10", "8")] == [15, 25, None]


def test_impedance_of_the_table() -> None:
    # source: NEC Chapter 9, Table 9: 500 kcmil copper in steel 0.029 + j0.048; aluminum 250 in PVC 0.085 + j0.041
    assert lookup.impedance(EDITION, "Cu", "500", "EMT") == (0.029, 0.048)
    assert lookup.impedance(EDITION, "Al", "250", "PVC") == (0.085, 0.041)
    assert lookup.impedance(EDITION, "Cu", "700", "EMT") is None


@given(st.floats(1, 500), st.floats(1, 500))
def test_more_load_never_gives_a_smaller_conductor(one: float, other: float) -> None:
    low, high = sorted((one, other))
    order = lookup.sizes(EDITION)
    assert order.index(smallest(low, "Cu", 75)) <= order.index(smallest(high, "Cu", 75))
