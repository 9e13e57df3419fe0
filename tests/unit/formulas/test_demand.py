"""Demand formulas against published worked examples; the source stands beside each check."""

from __future__ import annotations

import pytest

from fedfrom.formulas.demand_dwelling import Climate, fastened_appliances_va, largest_climate_va, optional_dwelling_va
from fedfrom.formulas.demand_machines import (
    arc_welder_group,
    elevator_demand,
    motor_feeder_current,
    xray_branch,
    xray_feeder,
)
from fedfrom.formulas.demand_neutral import neutral_load_va, reduced_neutral
from fedfrom.formulas.demand_ranges import (
    column_c_kw,
    range_demand_kw,
    three_phase_basis,
    three_phase_range_kw,
)
from fedfrom.formulas.demand_steps import factor_by_count, kitchen_demand, stepped_demand, steps_text
from fedfrom.formulas.load_units import (
    apparent_va,
    circuits_needed,
    current_a,
    lighting_area_va,
    multioutlet_va,
    outlets_on_circuit,
    outlets_va,
    show_window_va,
    track_va,
)
from fedfrom.passes.demand_tables import (
    climate_factors,
    dryer_percent,
    elevator_factor,
    kitchen_rows,
    lighting_steps,
    multifamily_rows,
    optional_dwelling_steps,
    range_rows,
    receptacle_steps,
)
from fedfrom.tables import load_edition
from fedfrom.tables.lookup import motor_current, welder_multiplier

NEC = load_edition("NEC 2023")
DWELLING = lighting_steps(NEC, "dwelling")
RANGES = range_rows(NEC)


def test_one_family_standard() -> None:
    """source: NFPA 70 (2005), Informative Annex D, Example D1(a)."""
    lighting = lighting_area_va(1500, 3)
    assert lighting == 4500
    assert circuits_needed(lighting, 15 * 120) == 3
    assert circuits_needed(lighting, 20 * 120) == 2
    group = stepped_demand(lighting + 3000 + 1500, DWELLING)
    assert group == pytest.approx(5100)
    cooking = range_demand_kw([12], RANGES) * 1000
    assert cooking == pytest.approx(8000)
    net = group + cooking + 5500
    assert net == pytest.approx(18600, abs=1)
    assert current_a(net, 240, 1) == pytest.approx(78, abs=0.5)
    neutral = neutral_load_va(group, cooking, 5500, 0)
    assert neutral == pytest.approx(14550, abs=1)
    assert current_a(neutral, 240, 1) == pytest.approx(61, abs=0.5)


def test_one_family_unbalanced() -> None:
    """source: NFPA 70 (2005), Informative Annex D, Example D1(b); neutral by the 2002 printing (3 A, not 2 A)."""
    line_a = 78 + motor_feeder_current([12]) + 6
    line_b = 78 + 6 + motor_feeder_current([10, 8])
    assert line_a == pytest.approx(99, abs=0.5)
    assert line_b == pytest.approx(104, abs=0.7)
    neutral = 61 + motor_feeder_current([12, 8])
    assert neutral == pytest.approx(84, abs=1.0)


def test_optional_dwelling_heating_governs() -> None:
    """source: NFPA 70 (2005), Informative Annex D, Example D2(a)."""
    climate, words = largest_climate_va(
        Climate(cooling_va=apparent_va(6, 230, 1), heating_va=9000, heating_units=5), climate_factors(NEC)
    )
    assert climate == pytest.approx(3600)
    assert words == "electric heat at 40 %"
    general = 1500 * 3 + 3000 + 1500 + 12000 + 2500 + 1200 + 5000
    assert general == 29700
    total = optional_dwelling_va(general, climate, optional_dwelling_steps(NEC, "220.82(B)", "general"))
    assert total == pytest.approx(21480, abs=1)
    assert current_a(total, 240, 1) == pytest.approx(89.5, abs=0.5)
    neutral = neutral_load_va(stepped_demand(9000, DWELLING), column_c_kw(1, RANGES) * 1000, 5000, 1200)
    assert neutral == pytest.approx(15400, abs=1)
    assert current_a(neutral, 240, 1) == pytest.approx(64.2, abs=0.5)


def test_optional_dwelling_heat_pump() -> None:
    """source: NFPA 70 (2005), Informative Annex D, Example D2(c)."""
    climate, _ = largest_climate_va(
        Climate(heat_pump_va=apparent_va(24, 240, 1), heating_va=15000, heating_units=1), climate_factors(NEC)
    )
    assert climate == pytest.approx(15510)
    total = optional_dwelling_va(33200, climate, optional_dwelling_steps(NEC, "220.82(B)", "general"))
    assert total == pytest.approx(34790, abs=1)
    assert current_a(total, 240, 1) == pytest.approx(145, abs=0.5)


def test_store() -> None:
    """source: NFPA 70 (2005), Informative Annex D, Example D3; 3 VA/ft2 is of editions to 2017."""
    receptacles = stepped_demand(outlets_va(80), receptacle_steps(load_edition("NEC 2017"))[0])
    assert receptacles == pytest.approx(12200, abs=1)
    continuous = max(lighting_area_va(3000, 3), 8500) + show_window_va(30) + 1200
    assert receptacles + continuous == pytest.approx(28400, abs=1)
    assert current_a(1.25 * 8500, 240, 1) == pytest.approx(44, abs=0.5)
    assert current_a(receptacles + 1.25 * continuous, 240, 1) == pytest.approx(135, abs=0.5)


def test_store_on_208_volts() -> None:
    """source: a published design note on service load calculation (editions before 2020), followed in its working."""
    total = 12200 + 1.25 * 16200 + 20000
    assert total == pytest.approx(52450, abs=1)
    assert current_a(total, 208, 3) == pytest.approx(145.6, abs=0.7)


def test_forty_dwelling_units_standard() -> None:
    """source: NFPA 70 (2005), Informative Annex D, Example D4(a); bank and main recomputed."""
    unit = lighting_area_va(840, 3) + 3000
    assert stepped_demand(unit, DWELLING) + range_demand_kw([12], RANGES) * 1000 == pytest.approx(11882, abs=1)
    bank = stepped_demand(20 * unit, DWELLING)
    assert bank == pytest.approx(40590, abs=1)
    bank_ranges = range_demand_kw([12] * 10, RANGES) * 1000
    assert current_a(bank + bank_ranges, 240, 1) == pytest.approx(273, abs=0.5)
    assert reduced_neutral(current_a(bank + 0.7 * bank_ranges, 240, 1)) == pytest.approx(229, abs=0.7)
    main = stepped_demand(40 * unit, DWELLING)
    assert main == pytest.approx(69150, abs=1)
    main_ranges = range_demand_kw([12] * 20, RANGES) * 1000
    assert current_a(main + main_ranges, 240, 1) == pytest.approx(434, abs=0.5)
    assert reduced_neutral(current_a(main + 0.7 * main_ranges, 240, 1)) == pytest.approx(333, abs=0.7)


def test_forty_dwelling_units_optional() -> None:
    """source: NFPA 70 (2005), Informative Annex D, Example D4(b); bank and main recomputed."""
    assert range_demand_kw([8], RANGES) == pytest.approx(6.4)
    assert stepped_demand(5520, DWELLING) + 6400 + 6000 + 2500 == pytest.approx(18782, abs=1)
    connected = 840 * 3 + 3000 + 8000 + 6000 + 2500
    rows = multifamily_rows(NEC)
    bank = 20 * connected * factor_by_count(20, rows) / 100
    assert bank == pytest.approx(167352, abs=1)
    assert current_a(bank, 240, 1) == pytest.approx(697, abs=0.5)
    main = 40 * connected * factor_by_count(40, rows) / 100
    assert main == pytest.approx(246624, abs=1)
    assert current_a(main, 240, 1) == pytest.approx(1028, abs=0.5)
    neutral = stepped_demand(40 * 5520, DWELLING) + 0.7 * range_demand_kw([8] * 40, RANGES) * 1000
    assert reduced_neutral(current_a(neutral, 240, 1)) == pytest.approx(374, abs=0.7)


def test_thirty_two_units_lighting() -> None:
    """source: a trade magazine's series on load calculations, 2008 (product and factor recomputed)."""
    before = 32 * lighting_area_va(1050, 3)
    assert before == pytest.approx(100800, abs=1)
    assert before * factor_by_count(32, multifamily_rows(NEC)) / 100 == pytest.approx(31248, abs=1)


def test_water_heaters_at_75_percent() -> None:
    """source: a trade magazine's series on load calculations, 2008 (NEC 220.53)."""
    assert fastened_appliances_va([4500] * 4, 4, 75) == pytest.approx(13500, abs=1)
    assert fastened_appliances_va([4500] * 3, 4, 75) == pytest.approx(13500, abs=1)


def test_equal_ranges_over_12_kw() -> None:
    """source: NFPA 70 (2005), Informative Annex D, Example D6, part A."""
    assert range_demand_kw([16] * 24, RANGES) == pytest.approx(46.8, abs=0.05)


def test_unequal_ranges() -> None:
    """source: NFPA 70, Informative Annex D, Example D6, part B (from memory): 5 of 11, 2 of 12, 20 of 13.5, 3 of 18 kW.

    30 ranges: column C 45 kW; average 13.6 kW with 12 for the smaller ones, 2 kW over 12 at 5 % each: 49.5 kW.
    """
    assert range_demand_kw([11] * 5 + [12] * 2 + [13.5] * 20 + [18] * 3, RANGES) == pytest.approx(49.5)


def test_ranges_on_three_phases() -> None:
    """source: NFPA 70, Informative Annex D, Example D5(a) (from memory): 20 ranges, 7 between two phases: 43.5 kW."""
    basis = three_phase_basis((7, 7, 6))
    assert basis == 14
    assert three_phase_range_kw(range_demand_kw([12] * basis, RANGES)) == pytest.approx(43.5)


def test_house_with_electric_heat() -> None:
    """source: a published article on a home's service calculation (3000 ft2, 20 kW of central heat)."""
    group = stepped_demand(lighting_area_va(3000, 3) + 4500, DWELLING)
    assert group == pytest.approx(6675)
    total = group + 5000 + 8000 + fastened_appliances_va([5000, 1000, 900], 4, 75) + 20000
    assert total == pytest.approx(46575, abs=1)
    assert current_a(total, 240, 1) == pytest.approx(194, abs=0.5)


def test_six_elevators() -> None:
    """source: NFPA 70 (2005), Informative Annex D, Example D10."""
    each = current_a(95_000 / 0.9, 460, 3)
    assert each == pytest.approx(133, abs=0.6)
    assert 6 * each == pytest.approx(798, abs=3.2)
    diverse = elevator_demand([133] * 6, elevator_factor(NEC, 6))
    assert diverse == pytest.approx(630, abs=2.5)
    assert diverse + 6 * 1.25 * 10 == pytest.approx(705, abs=3)


def test_two_motors_on_a_feeder() -> None:
    """source: a published exercise on motor feeders (two 1 hp, 115 V motors on one line)."""
    each = motor_current(NEC, 1, 120, 1)
    assert each == 16
    assert motor_feeder_current([each, each]) == pytest.approx(36, abs=0.1)


def test_three_motors_on_a_feeder() -> None:
    """source: NFPA 70, Informative Annex D, Example D8 (from memory): 25 hp and two of 30 hp at 460 V."""
    currents = [motor_current(NEC, hp, 480, 3) or 0 for hp in (25, 30, 30)]
    assert currents == [34, 40, 40]
    assert motor_feeder_current(currents) == pytest.approx(124, abs=0.5)


def test_arc_welder() -> None:
    """source: a trade magazine's answer on NEC 2011, 630.11(A): 40 A primary, 50 % duty."""
    assert 40 * (welder_multiplier(NEC, "arc_without_motor_generator", 50) or 0) == pytest.approx(28.4, abs=0.05)


def test_arc_welders_together() -> None:
    """source: NEC 630.11(B) (from memory)."""
    assert arc_welder_group([10, 40, 20, 30, 5]) == pytest.approx(40 + 30 + 0.85 * 20 + 0.70 * 10 + 0.60 * 5)


def test_multioutlet_assembly() -> None:
    """source: a trade magazine's series on commercial loads (NEC 220.14(H)): ten workstations."""
    assert multioutlet_va(10 * 10, simultaneous=False) + multioutlet_va(10 * 3, simultaneous=True) == 9000
    assert multioutlet_va(11, simultaneous=False) == 540


def test_475_ampere_neutral() -> None:
    """source: a trade magazine's code quiz, NEC 2005, 220.61."""
    assert reduced_neutral(475) == pytest.approx(392.5, abs=0.1)


def test_neutral_without_reduction() -> None:
    """source: NEC 220.61(C)."""
    assert reduced_neutral(0, 475) == 475
    assert reduced_neutral(300, 100) == pytest.approx(400 - 0.3 * 200)
    assert reduced_neutral(50, 400) == pytest.approx(450 - 0.3 * 50)
    assert reduced_neutral(475, may_reduce=False) == 475
    assert reduced_neutral(150) == 150


def test_store_with_unknown_receptacles() -> None:
    """source: a textbook on commercial wiring, 2018, problem 12-8 (the circuits; its 1 VA/ft2 is for offices)."""
    assert circuits_needed(9600, 15 * 120) == 6


def test_outlets_on_a_circuit() -> None:
    """source: NEC 220.14(I) with 210.11: the trade's 10 on 15 A and 13 on 20 A."""
    assert outlets_on_circuit(15, 120) == 10
    assert outlets_on_circuit(20, 120) == 13


def test_track() -> None:
    """source: NEC 220.46(B): 150 VA for each 2 ft or part."""
    assert track_va(24) == 1800
    assert track_va(25) == 1950


def test_kitchen_is_not_below_its_two_largest() -> None:
    """source: NEC 220.56."""
    rows = kitchen_rows(NEC)
    assert kitchen_demand([10_000] * 6, rows) == pytest.approx(39_000)
    assert kitchen_demand([20_000, 20_000, 1_000, 1_000, 1_000, 1_000], rows) == 40_000


def test_x_ray() -> None:
    """source: NEC 517.73(A) (from memory)."""
    assert xray_branch(100_000, 8_000) == 50_000
    assert xray_feeder([100_000, 80_000, 60_000], [8_000] * 3) == pytest.approx(50_000 + 20_000 + 6_000)


def test_dryers() -> None:
    """source: NEC Table 220.54."""
    assert dryer_percent(NEC, 4) == 100
    assert dryer_percent(NEC, 5) == 85
    assert dryer_percent(NEC, 80) == 25


def test_steps_in_words() -> None:
    assert steps_text(receptacle_steps(NEC)[0]) == "first 10 kVA at 100 %, rest at 50 %"
    assert steps_text(DWELLING) == "first 3 kVA at 100 %, next 117 kVA at 35 %, rest at 25 %"
