"""Raceway fill."""

import pytest

from fedfrom.formulas.raceway import conductors_area, smallest_raceway
from fedfrom.tables import load_edition, lookup

EDITION = load_edition("NEC 2023")


def test_mixed_sizes_in_rigid_conduit() -> None:
    # source: commercial wiring textbook (2018), sample problem 6-8: one 12, one 10, three 8 AWG THHN -> 0.1442 in2, 3/4
    sizes = (("12", 1), ("10", 1), ("8", 3))
    total = conductors_area((lookup.conductor_area(EDITION, "THHN", size) or 0, count) for size, count in sizes)
    assert total == pytest.approx(0.1442, abs=0.0002)
    found = smallest_raceway(total, lookup.fill_limit_pct(EDITION, 5), lookup.trade_sizes(EDITION, "RMC"))
    assert found is not None
    assert found[0] == "3/4"


def test_fill_limits() -> None:
    # source: NEC Chapter 9, Table 1
    assert [lookup.fill_limit_pct(EDITION, n) for n in (1, 2, 3, 9)] == [53, 31, 40, 40]


def test_four_500_kcmil_and_a_ground() -> None:
    # source: NEC Chapter 9, Tables 4 and 5: 4 x 0.7073 + 0.0973 = 2.9265 in2; EMT 3 inch 40 % = 3.538 in2
    total = conductors_area([(lookup.conductor_area(EDITION, "THHN/THWN-2", "500") or 0, 4), (0.0973, 1)])
    found = smallest_raceway(total, 40, lookup.trade_sizes(EDITION, "EMT"))
    assert found is not None
    assert found[0] == "3"


def test_nothing_fits() -> None:
    assert smallest_raceway(99.0, 40, lookup.trade_sizes(EDITION, "EMT")) is None
    assert lookup.trade_sizes(EDITION, "no such raceway") == ()
    assert smallest_raceway(0.01, 40, lookup.trade_sizes(EDITION, "EMT"), smallest="3/4") == (
        "3/4",
        pytest.approx(1.876, abs=0.01),
    )


def test_flexible_raceways_have_their_own_areas() -> None:
    # source: NEC Chapter 9, Table 4: 1/2 inch FMC 0.317 in2, LFMC 0.314 in2, each less than 1/2 inch IMC of 0.342 in2
    areas = [dict(lookup.trade_sizes(EDITION, kind))["1/2"] for kind in ("FMC", "LFMC", "IMC")]
    assert areas == [0.317, 0.314, 0.342]
