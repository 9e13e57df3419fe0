"""Grounding and bonding conductors, against worked examples."""

import pytest

from fedfrom.formulas.grounding import increased_ground_area, supply_area
from fedfrom.tables import load_edition, lookup

EDITION = load_edition("NEC 2023")


def area(size: str) -> float:
    found = lookup.area_kcmil(EDITION, size)
    assert found is not None
    return found


def test_ground_enlarged_with_the_phase_conductors() -> None:
    # source: trade magazine, question of the day (2011-2020): 20 A, 12 AWG raised to 6 AWG -> ground 6 AWG
    table = lookup.egc_size(EDITION, "Cu", 20)
    assert table == "12"
    needed = increased_ground_area(area(table), area("6"), area("12"))
    assert lookup.size_with_area(EDITION, needed) == "6"


def test_ground_of_a_parallel_feeder_is_full_size_in_each_raceway() -> None:
    # source: steel conduit trade association, Code Corner: 400 A, two raceways -> 3 AWG copper, 1 AWG aluminum each
    assert lookup.egc_size(EDITION, "Cu", 400) == "3"
    assert lookup.egc_size(EDITION, "Al", 400) == "1"


def test_ground_never_exceeds_the_phase_conductors() -> None:
    # source: NEC 250.122(A)
    assert increased_ground_area(area("6"), area("10"), area("14")) == pytest.approx(area("10"))


def test_supply_side_bonding_jumper() -> None:
    # source: building code forum (NEC 2017): one set of 250 kcmil copper -> 2 AWG; three sets -> 2/0 AWG
    one = supply_area(area("250"), 3, each_raceway=True)
    three = supply_area(area("250"), 3, each_raceway=False)
    assert lookup.bonding_jumper_size(EDITION, "Cu", one) == "2"
    assert lookup.bonding_jumper_size(EDITION, "Cu", three) == "2/0"


def test_jumper_above_the_table_is_an_eighth_of_the_area() -> None:
    # source: NEC Table 250.102(C)(1), Note 1: 4 x 600 kcmil = 2400, 12.5 % = 300 kcmil
    assert lookup.bonding_jumper_size(EDITION, "Cu", 2400) == "300"


def test_grounding_of_a_250_kcmil_service() -> None:
    # source: trade magazine quiz (NEC 1999): neutral, main bonding jumper and supply-side jumper 2 AWG, electrode 2 AWG
    assert lookup.bonding_jumper_size(EDITION, "Cu", 250) == "2"
    assert lookup.gec_size(EDITION, "Cu", 250) == "2"
    assert lookup.gec_size(EDITION, "Cu", 3000) == "3/0"  # NEC Table 250.66, last row
