"""The gear and sources passes through whole little programs: service, grounding, spare amperes, buses, places."""

from __future__ import annotations

import pytest
from tests.support.sizing import results_of

from fedfrom.model.items import Origin
from fedfrom.results.types import Results

PROGRAM = """fedfrom 1
project "Example" { code NEC 2023 }
utility UT {
    voltage 208Y/120 V
    fault   12 kA at service point, X/R 4
}
room E1 "Main electrical" { level 1, size 20 ft x 12 ft, height 9 ft }
switchboard MSB "Main switchboard" {
    fed from  UT, 30 ft, sets 2, phase 500 kcmil
    main      breaker 800 A
    place     E1
    metering  utility
    electrode building steel, 20 ft
    electrode rod x 2, 12 ft
}
panelboard LP1 "Offices" {
    fed from  MSB, 60 ft, breaker 225 A
    place     indoor "Store", dusty
    bus       225 A Cu
    1,3,5     equipment "Kiln" 14.4 kVA, 208 V 3-phase, 40 ft
    7         equipment "Oven" 1.8 kVA, 120 V, 40 ft
}
gear DP2 "Yard" {
    fed from  MSB, 80 ft, breaker 100 A
    place     outdoor "Yard"
    enclosure Type 4X
    equipment "Pump cabinet" 40 A, 208 V 3-phase, 20 ft
}
disconnect DS1 "Lift" {
    fed from  MSB, 40 ft, breaker 100 A
    rating    100 A
    place     E1
    equipment "Lift" 30 A, 208 V 3-phase, 20 ft
}
"""


@pytest.fixture(scope="module")
def results() -> Results:
    return results_of(PROGRAM)


def test_service_equipment_is_grounded_and_bonded(results: Results) -> None:
    board = results.gear["MSB"]
    assert board.service_equipment
    assert board.electrodes == ("building steel, 20 ft", "rod x 2, 12 ft")
    # source: NEC Table 250.66: over 600 through 1100 kcmil Cu (2 x 500) takes 2/0 AWG
    assert board.grounding_electrode_conductor == "2/0"
    # source: NEC Table 250.102(C)(1): the same row, 2/0 AWG
    assert board.main_bonding_jumper == "2/0"
    assert not results.gear["LP1"].service_equipment
    assert results.gear["LP1"].grounding_electrode_conductor == ""


def test_place_and_enclosure(results: Results) -> None:
    assert results.gear["MSB"].place == "E1, Main electrical"
    assert (results.gear["MSB"].enclosure, results.gear["MSB"].enclosure_origin) == ("1", Origin.CHOSEN)
    assert results.gear["LP1"].enclosure == "12"
    assert (results.gear["DP2"].enclosure, results.gear["DP2"].enclosure_origin) == ("4X", Origin.WRITTEN)


def test_an_open_class_is_chosen_with_its_reasons(results: Results) -> None:
    yard = results.gear["DP2"]
    # Type 4X rules out the load center and the switchboard; 12 kA and 208Y/120 V would have suited the load center
    assert (yard.gear_class, yard.class_origin) == ("panelboard", Origin.CHOSEN)
    assert any("Type 4X" in sentence for sentence in yard.why)
    assert [verdict.gear_class for verdict in yard.verdicts] == ["load center", "panelboard", "switchboard"]
    assert results.derivations["DP2.class"].rejected


def test_other_kinds_keep_their_own_class(results: Results) -> None:
    assert results.gear["DS1"].gear_class == "disconnect"
    assert results.gear["DS1"].verdicts == ()
    assert results.gear["DS1"].bus_a == 100


def test_bus_and_spare_amperes(results: Results) -> None:
    panel = results.gear["LP1"]
    assert (panel.bus_a, panel.bus_material, panel.bus_origin) == (225, "Cu", Origin.WRITTEN)
    load = results.loads["LP1"]["Normal"]
    assert panel.spare_ampacity_a == pytest.approx(225 - load.design_a)
    assert panel.positions_used == 4
    assert panel.positions_total >= 4


def test_imbalance_is_the_greatest_deviation_from_the_mean(results: Results) -> None:
    # 14.4 kVA in three phases is 4.8 kVA each; position 7 adds 1.8 kVA to phase A: 6.6 against a mean of 5.4 kVA
    assert results.gear["LP1"].imbalance_pct == pytest.approx(100 * 1.2 / 5.4)


def test_source_of_the_service(results: Results) -> None:
    source = results.sources["UT"]
    assert source.fault_a == pytest.approx(12_000)
    assert source.x_over_r == pytest.approx(4)
    assert source.basis.startswith("12 kA at the service point (stated), X/R 4")
    assert not source.assumed
    assert source.by == "utility"
    assert source.demand_a is not None


def test_sections_hold_every_device_once(results: Results) -> None:
    board = results.gear["MSB"]
    assert board.sections[0].kind == "utility metering"
    keys = [key for section in board.sections for key in section.circuit_keys]
    assert len(keys) == len(set(keys))
    rows = {row.key for row in results.circuits["MSB"] if row.device is not None}
    assert rows <= set(keys)


def test_a_missing_utility_figure_is_told_in_the_source() -> None:
    text = PROGRAM.replace("    fault   12 kA at service point, X/R 4\n", "")
    results = results_of(text)
    assert results.sources["UT"].fault_a is None
    assert results.sources["UT"].basis == "not known: needs the utility's available fault current"
    assert results.gear["MSB"].sccr_basis == "not established"
    assert results.gear["MSB"].fault_a is None
