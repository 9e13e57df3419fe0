"""Problems of the kinds that licence exams ask, worked by hand by a second reader; our own, no publication."""

from __future__ import annotations

import math

import pytest
from tests.support.published import Published, published
from tests.support.sizing import results_of


def example(name: str) -> Published:
    return published("loads", name)


def test_school_counts_the_larger_of_heating_and_cooling() -> None:
    """220.86: 60 + 60 + 50 + 200 = 370 kVA on 40 000 ft2 is 9.25 VA/ft2: 3 + 75 % of 6.25 = 7.6875 VA/ft2."""
    load = example("school-heating-over-cooling").load("MSB")
    assert load.demand_va == pytest.approx(7.6875 * 40_000)
    assert load.connected_va == pytest.approx(450_000)


def test_ranges_by_the_number_between_two_phases_are_balanced() -> None:
    """220.55: 8 ranges by column C are 23 kW, 11.5 kW a phase; 220.54: 8 dryers of 5.5 kW at 60 % are 26.4 kW, 13.2 kW
    a phase. (34.5 + 39.6) kVA / (1.732 x 208 V) = 205.7 A, and no line carries more than that."""
    load = example("ten-ranges-three-phase").load("P")
    assert load.demand_va == pytest.approx(34_500 + 39_600)
    assert load.design_a == pytest.approx(74_100 / (math.sqrt(3) * 208), abs=0.05)
    assert load.neutral_va == pytest.approx(0.7 * 74_100)


def test_equal_flats_do_not_load_one_line() -> None:
    """220.42: 12 x 5250 = 63 000: 3000 + 35 % of 60 000 = 24 000 VA; 220.53: 12 x 1200 at 75 % = 10 800 VA. 34 800 VA
    are 145 A on either line."""
    found = example("twelve-equal-flats")
    load = found.load("MC")
    assert load.demand_va == pytest.approx(34_800)
    assert load.design_a == pytest.approx(145.0, abs=0.1)
    assert load.phase_demand_a[0] == pytest.approx(load.phase_demand_a[1], abs=0.1)
    assert found.results.gear["MC"].main.rating_a == 150


def test_flat_on_two_lines_of_a_wye() -> None:
    """16.2 A of lighting and 38.5 A of the range, added as the example adds them: 54.6 A (it prints 55 A)."""
    found = example("flat-on-two-lines-of-a-wye")
    load = found.load("A")
    assert load.demand_va == pytest.approx(3882 + 8000)
    assert load.demand_a == pytest.approx(3882 / 240 + 8000 / 208, abs=0.01)
    assert found.step("A.demand", "I = Sn").result == "54.6 A"


def test_cooling_that_counts_at_125_percent_is_counted_so() -> None:
    """220.60 (2023): 24 942 VA of cooling at 125 % = 31 177 VA over 30 000 VA of heat; the 50 hp motor (54 040 VA) is
    the largest of 430.24: 54 040 x 1.25 + 31 177 = 98 727 VA."""
    found = example("heating-or-cooling")
    one = math.sqrt(3) * 480
    assert found.category("P", "cooling") == pytest.approx(1.25 * 30 * one)
    assert found.load("P").demand_va == pytest.approx(1.25 * (65 + 30) * one)
    assert found.category("P", "heating") == 0


def test_bus_of_a_feeder_rated_100_percent() -> None:
    """390 A of continuous load on a breaker rated 100 %: 400 A, 2 sets of 3/0 AWG (400 A), a 400 A bus suffices."""
    found = example("full-rated-feeder")
    assert found.results.feeders["P"].conductors.ampacity_a >= 390
    assert found.results.gear["P"].bus_a == 400
    assert not found.findings("panel-overload")


@pytest.mark.parametrize("tag", ["M-1", "M-2", "M-3", "M-4"])
def test_one_motor_in_four_ways(tag: str) -> None:
    """37 kW / 0.746 = 49.6 hp, the row of 50 hp: 65 A. 1.25 x 65 = 81.25 A: 4 AWG (85 A); 2.5 x 65 = 162.5 A: 175 A."""
    row = example("motors-by-current-and-kilowatts").circuit(tag)
    assert row.load_a == pytest.approx(65.0, abs=0.05)
    assert row.conductors.phase == "4"
    assert row.device.rating_a == 175


def test_feeder_of_motors_by_current() -> None:
    """430.24: 1.25 x 65 + 3 x 65 = 276.25 A; 430.62(A): not over 175 + 3 x 65 = 370 A."""
    found = example("motors-by-current-and-kilowatts")
    assert found.load("P").design_a == pytest.approx(276.25, abs=0.1)
    assert 276 < found.results.feeders["P"].device.rating_a <= 370
    assert not found.findings("motor-feeder-ocpd")


def test_stated_line_to_ground_current_stands_at_the_service() -> None:
    fault = published("network", "stated-line-to-ground").results.faults["MSB"]["Normal"]
    assert fault.line_ground_a == pytest.approx(41_000, abs=0.5)
    assert fault.three_phase_a == pytest.approx(38_000, abs=0.5)


@pytest.mark.parametrize(
    ("subject", "amperes", "note"),
    [
        ("MSB.1.overload", "38.8 A", "overload not over 38.8 A"),  # 1.25 x 31 = 38.75
        ("MSB.2.overload", "35.6 A", "overload not over 35.6 A"),  # 1.15 x 31 = 35.65
        ("MSB.3.leads", "89.3 A", "six leads to the motor, 89.3 A each"),  # 0.72 x 124 = 89.28
    ],
)
def test_overload_and_leads(subject: str, amperes: str, note: str) -> None:
    """430.32(A)(1): 125 % of the nameplate with a service factor of 1.15, else 115 %; 430.22(C): 72 % of 124 A."""
    found = example("motor-overload-and-leads")
    assert found.results.derivations[subject].value == amperes
    assert note in found.circuit(subject.rpartition(".")[0]).notes


def test_breaker_with_an_instantaneous_trip_only() -> None:
    """60 hp: 77 A. Rating at least 1.15 x 77 = 88.6 A: 90 A; trip not over 8 x 77 = 616 A. Ground by the time-delay
    fuse, 1.75 x 77 = 134.8 A: 150 A, 6 AWG. The feeder: 2.5 x 77 = 192.5 A: 200 A + 14 A = 214 A, so 200 A at most."""
    found = example("motor-circuit-protector")
    row = found.circuit("M-1")
    assert row.device.rating_a == 90
    assert "instantaneous trip set not over 616 A" in row.notes
    assert found.results.derivations["P.1.trip"].value == "616 A"
    assert row.conductors.phase == "3"
    assert row.conductors.ground == "6"
    (finding,) = found.findings("motor-feeder-ocpd")
    assert "largest motor device and the other loads: 214 A" in finding.notes


def test_grounding_of_a_transformer_with_two_panels() -> None:
    """225 A each: 4/0 AWG, 211.6 kcmil; together 423.2 kcmil: 1/0 AWG for the jumper and the electrode conductor. The
    supply-side jumper of each run goes by its own 4/0 AWG: 2 AWG. Devices: 225 + 225 = 450 A of 521 A."""
    found = example("transformer-two-panels")
    transformer = found.results.transformers["T1"]
    assert found.results.feeders["P1"].conductors.phase == "4/0"
    assert transformer.system_bonding_jumper == "1/0"
    assert transformer.grounding_electrode_conductor == "1/0"
    assert transformer.supply_side_bonding_jumper == "2"
    assert found.step("T1.jumper", "A = n1 A1 + n2 A2").result == "423.2 kcmil"
    assert not found.findings("xfmr-ocpd")


def test_motor_that_is_not_connected_is_not_sized() -> None:
    """5 hp at 230 V single-phase cannot run on 208Y/120 V: no wire and no device is named for it."""
    text = """fedfrom 1
utility UT {
 voltage 208Y/120 V
 fault 9 kA at service point, X/R 5
}
panelboard P {
 fed from UT, 20 ft
 main breaker 100 A
 motor M-1 "Saw" 5 hp, 230 V 1-phase, 40 ft
}
"""
    (row,) = (row for row in results_of(text).circuits["P"] if row.tag == "M-1")
    assert row.device is None
    assert row.conductors is None
