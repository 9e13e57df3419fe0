"""Motors, air conditioning and welders, against worked examples."""

import pytest

from fedfrom.formulas import motors
from fedfrom.formulas.overcurrent import next_standard_rating, standard_rating_not_over
from fedfrom.tables import load_edition, lookup

EDITION = load_edition("NEC 2023")
BREAKERS = lookup.standard_ratings(EDITION)
FUSES = lookup.standard_ratings(EDITION, "fuse")
SQUIRREL_CAGE = "polyphase_other_than_wound_rotor"


def current(hp: float, volts: float, phases: int) -> float:
    found = lookup.motor_current(EDITION, hp, volts, phases)
    assert found is not None
    return found


def test_motor_of_7_5_hp_at_230_v() -> None:
    # source: trade forum (2002-2005): 22 A, 27.5 A, 250 % = 55 A -> 60 A
    flc = current(7.5, 230, 3)
    assert flc == 22
    assert motors.motor_conductor(flc) == pytest.approx(27.5)
    pct = lookup.motor_device_pct(EDITION, SQUIRREL_CAGE, "inverse_time_breaker")
    assert pct == 250
    assert motors.motor_device(flc, pct, BREAKERS) == 60


def test_motor_of_3_hp_at_115_v_on_time_delay_fuses() -> None:
    # source: trade magazine, May 2004 (NEC 2002): 34 A, 43 A, fuse 60 A (recomputed)
    flc = current(3, 120, 1)
    assert flc == 34
    assert motors.motor_conductor(flc) == pytest.approx(42.5)
    pct = lookup.motor_device_pct(EDITION, "single_phase", "dual_element_fuse") or 0
    assert motors.motor_device(flc, pct, FUSES) == 60


def test_motor_of_50_hp_three_fuse_limits() -> None:
    # source: trade magazine quiz: 65 A x 1.75 = 113.75 A: not over 110, next 125; 225 % not over -> 125 A
    flc = current(50, 480, 3)
    assert flc == 65
    assert standard_rating_not_over(1.75 * flc, FUSES) == 110
    assert motors.motor_device(flc, 175, FUSES) == 125
    assert motors.motor_device_ceiling(flc, 225, FUSES) == 125


def test_two_motors_of_1_hp_on_a_feeder() -> None:
    # source: trade forum (NEC 2005): 16 A, branch 40 A, feeder 36 A, limit 56 A -> 50 A
    flc = current(1, 115, 1)
    assert flc == 16
    assert motors.motor_device(flc, 250, BREAKERS) == 40
    assert motors.motors_conductor([flc, flc]) == pytest.approx(36)
    assert standard_rating_not_over(motors.motor_feeder_limit(40, flc), BREAKERS) == 50


def test_three_motors_on_a_feeder() -> None:
    # source: NEC Annex D, example D8 (from memory, recomputed): 25 hp and two wound-rotor 30 hp at 460 V
    flc25, flc30 = current(25, 480, 3), current(30, 460, 3)
    assert (flc25, flc30) == (34, 40)
    assert motors.motors_conductor([flc25, flc30, flc30]) == pytest.approx(124)
    nontime = lookup.motor_device_pct(EDITION, SQUIRREL_CAGE, "nontime_delay_fuse") or 0
    assert motors.motor_device(flc25, nontime, FUSES) == 110
    assert motors.motor_device_ceiling(flc25, 400, FUSES) == 125
    assert motors.motor_device(flc25, 175, FUSES) == 60
    assert motors.motor_device_ceiling(flc25, 225, FUSES) == 70
    wound = lookup.motor_device_pct(EDITION, "wound_rotor", "nontime_delay_fuse") or 0
    assert motors.motor_device(flc30, wound, FUSES) == 60
    limit = motors.motor_feeder_limit(110, 2 * flc30)
    assert limit == pytest.approx(190)
    assert standard_rating_not_over(limit, FUSES) == 175
    assert motors.overload_setting(32, 125) == pytest.approx(40)
    assert motors.overload_setting(38, 125) == pytest.approx(47.5)
    assert motors.motor_conductor(65) == pytest.approx(81.25)  # secondary of the wound-rotor motor


def test_locked_rotor_current() -> None:
    # source: NEC Table 430.251(B): 50 hp, 460 V, design B: 363 A (trade magazine quiz)
    assert lookup.locked_rotor_current(EDITION, 50, 480) == 363


def test_voltages_without_a_column_have_no_current() -> None:
    assert lookup.motor_current(EDITION, 10, 400, 3) is None
    assert lookup.motor_current(EDITION, 10, 277, 3) is None
    assert lookup.motor_current(EDITION, 11, 480, 3) is None
    assert lookup.motor_current(EDITION, 10, 208, 3) == 30.8  # NEC Table 430.250


def test_compressor_of_24_a() -> None:
    # source: trade magazine (NEC 2011): 30 A, 175 % = 42 A -> 40 A, 225 % -> 50 A
    assert motors.compressor_conductor(24) == pytest.approx(30)
    assert motors.compressor_device(24, BREAKERS) == 40
    assert motors.compressor_device(24, BREAKERS, 225) == 50
    assert motors.compressor_device(4, BREAKERS) == 15  # NEC 440.22(A): need not be smaller than 15 A


def test_nameplates_of_air_conditioners() -> None:
    # source: trade magazine January 2025 (50 A) and an older Code Q&A (60 A): device not over the nameplate
    assert standard_rating_not_over(50, BREAKERS) == 50
    assert standard_rating_not_over(60, BREAKERS) == 60


def test_arc_welder_at_half_duty() -> None:
    # source: trade magazine, Code Q&A (NEC 2011): 40 A x 0.71 = 28.4 A
    multiplier = lookup.welder_multiplier(EDITION, "arc_without_motor_generator", 50)
    assert multiplier == 0.71
    assert motors.welder_current(40, multiplier) == pytest.approx(28.4)
    assert next_standard_rating(motors.welder_device_limit(40), BREAKERS) == 80  # NEC 630.12(A): 200 %
