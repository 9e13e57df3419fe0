"""Problems of the usual kinds, worked by hand from the code's rules and from Ohm's law; our own, no publication.

Ampacities are those of Table 310.16 at 75 C, R and X those of Chapter 9 Table 9 (steel), areas of Table 5 and Table 8.
"""

from __future__ import annotations

import math
from functools import cache

import pytest
from tests.support.sizing import compile_text, row_of

from fedfrom.results.types import ConductorResult, Results

SERVICE_480 = "fedfrom 1\nutility UT {\n voltage 480Y/277 V\n fault 20 kA at service point, X/R 6\n}\n"
SERVICE_208 = SERVICE_480.replace("480Y/277", "208Y/120")
SERVICE_240 = SERVICE_480.replace("480Y/277", "120/240")


@cache
def results(text: str) -> Results:
    return compile_text(text)[0].results


@cache
def rules(text: str) -> frozenset[str]:
    return frozenset(finding.rule for finding in compile_text(text)[1])


def wires(text: str, feeder: str) -> ConductorResult:
    found = results(text).feeders[feeder].conductors
    assert found is not None
    return found


def board(lines: str, service: str = SERVICE_480, feed: str = "0 ft", main: str = "breaker 800 A") -> str:
    return f'{service}switchboard MSB {{\n fed from UT, {feed}\n main {main}\n place indoor "Room"\n{lines}\n}}\n'


# --- fault current -------------------------------------------------------------------------------------------------


def test_transformer_and_run_as_r_plus_jx() -> None:
    # 0.04 x 480^2 / 500 kVA = 18.432 mohm at X/R 4: 4.470 + j17.882; 50 ft of 2 x 350 kcmil: 0.975 + j1.250 at 75 C,
    # |5.445 + j19.132| = 19.891 mohm, 277.13 / 0.019891 = 13 932 A; at 20 C 0.975 x 254.5 / 309.5 = 0.8017:
    # |5.272 + j19.132| = 19.845 mohm, 277.13 / 0.019845 = 13 965 A
    text = """fedfrom 1
utility UT {
 voltage 480Y/277 V
 transformer 500 kVA, 4 %, X/R 4
}
switchboard MSB { fed from UT, 50 ft, sets 2, phase 350 kcmil, wire Cu THHN/THWN-2 in RMC }
"""
    hot = text.replace("fedfrom 1", "fedfrom 1\ndefaults { fault temperature 75 C }")
    assert results(hot).faults["MSB"]["Normal"].three_phase_a == pytest.approx(13_932, rel=1e-4)
    assert results(text).faults["MSB"]["Normal"].three_phase_a == pytest.approx(13_965, rel=1e-4)


def test_chain_of_two_transformers() -> None:
    """Utility 500 MVA X/R 8, 1500 kVA 5.75 % X/R 6, runs, 75 kVA 5 % X/R 1.5: a complex nodal solve made elsewhere."""
    text = """fedfrom 1
# that solve took the resistances of Table 9 as printed
defaults {
 wire Cu THHN/THWN-2 in RMC
 fault temperature 75 C
}
utility UT {
 voltage 480Y/277 V
 transformer 1500 kVA, 5.75 %, X/R 6
 primary 13.8 kV, fault 500 MVA, X/R 8
}
switchboard SWB { fed from UT, 0 ft }
panelboard DP { fed from SWB, 200 ft, breaker 700 A, sets 2, phase 500 kcmil }
transformer T2 {
 fed from DP, 100 ft, breaker 125 A, phase 1 AWG
 rating 75 kVA
 secondary 208Y/120 V
 impedance 5 %, X/R 1.5
}
panelboard LP { fed from T2, 25 ft, phase 250 kcmil }
"""
    faults = {tag: states["Normal"] for tag, states in results(text).faults.items()}
    expected = {"SWB": (29_823, 6.08), "DP": (18_919, 3.17), "T2": (3_525.7, 1.40), "LP": (3_344.6, 1.37)}
    for tag, (amperes, ratio) in expected.items():
        assert faults[tag].three_phase_a == pytest.approx(amperes, rel=3e-5)
        assert faults[tag].x_over_r == pytest.approx(ratio, abs=0.006)
    assert results(text).feeders["T2"].fault_load_end_a == pytest.approx(9_777.2, rel=3e-5)
    # at the secondary terminals the line-to-ground fault is the greater one: 1.017 and 1.054 times
    assert (faults["SWB"].line_ground_a or 0) / faults["SWB"].three_phase_a == pytest.approx(1.017, abs=0.001)
    assert (faults["T2"].line_ground_a or 0) / faults["T2"].three_phase_a == pytest.approx(1.054, abs=0.001)


def test_motor_beside_a_stiff_source() -> None:
    # 100 hp at 460 V: 124 A, 5 times at X/R 8; the source 10 kA at X/R 8: the same angle, so amperes add: 10 620 A
    text = board(' motor "M" 100 hp, 10 ft', SERVICE_480.replace("20 kA at service point, X/R 6", "10 kA, X/R 8"))
    fault = results(text).faults["MSB"]["Normal"]
    assert fault.three_phase_a == pytest.approx(10_620, rel=1e-6)
    assert fault.motor_contribution_a == pytest.approx(620, rel=1e-6)


def test_two_utilities_on_one_bus_add_as_phasors() -> None:
    # 20 kA at X/R 8 is 2.4807 - j19.8456 kA, 15 kA at X/R 3 is 4.7434 - j14.2302: |7.2241 - j34.0758| = 34.833 kA
    text = """fedfrom 1
utility UA {
 voltage 480Y/277 V
 fault 20 kA at service point, X/R 8
}
utility UB {
 voltage 480Y/277 V
 fault 15 kA at service point, X/R 3
}
switchboard MSB {
 fed from UA, 0 ft
 fed from UB, 0 ft
 paralleling
 main breaker 800 A
}
"""
    assert results(text).faults["MSB"]["Normal"].three_phase_a == pytest.approx(34_833, rel=2e-5)
    assert results(text).faults["MSB"]["UB lost"].three_phase_a == pytest.approx(20_000, rel=1e-9)
    assert "fault-not-computed" not in rules(text)


def test_generator_with_subtransient_reactance() -> None:
    # 500 kVA, 12 %: 0.12 x 480^2 / 500 kVA = 55.296 mohm, X/R 20: 55.365; 277.13 / 0.055365 = 5 005.4 A
    text = """fedfrom 1
generator G1 {
 voltage 480Y/277 V
 rating 500 kVA
 subtransient 12 %, X/R 20
}
switchboard MSB { fed from G1, 0 ft }
"""
    assert results(text).faults["MSB"]["Normal"].three_phase_a == pytest.approx(5_005.4, rel=2e-5)


# --- voltage drop --------------------------------------------------------------------------------------------------


def test_three_phase_feeder_at_its_power_factor() -> None:
    # 100 A, 300 ft of 1 AWG (0.16 + j0.057), 0.9: 100 x 0.3 x (0.16 x 0.9 + 0.057 x 0.43589) = 5.0654 V; x 1.732;
    # the exact form is a little above: b = 100 x 0.3 x (0.057 x 0.9 - 0.16 x 0.43589) = -0.5533 V, b^2 / 2E = 0.0006 V
    line = ' equipment "E" 100 A, 480 V 3-phase, power factor 0.9, 300 ft, phase 1 AWG, wire Cu XHHW-2 in RMC'
    row = row_of(results(board(line)), "E")
    assert row.drop_v == pytest.approx(math.sqrt(3) * (5.0654 + 0.0006), rel=1e-4)
    assert row.drop_pct == pytest.approx(1.828, abs=0.001)


def test_two_wire_circuit() -> None:
    # 16 A out and back over 100 ft of 12 AWG: 2 x 16 x 0.2 = 6.4 V of 120 V
    line = ' equipment "E" 16 A, 120 V 1-phase, power factor 1, 100 ft, phase 12 AWG, wire Cu THHN/THWN-2 in RMC'
    row = row_of(results(board(line, SERVICE_208)), "E")
    assert row.drop_v == pytest.approx(6.4, rel=1e-4)
    assert row.drop_pct == pytest.approx(5.333, abs=0.001)


def three_wire(voltage: str, loads: str, service: str) -> str:
    return (
        f"{board('', service)}load center LC {{\n fed from MSB, 150 ft, breaker 60 A, phase 6 AWG, "
        f"wire Cu XHHW-2 in RMC, impedance 0.49 ohm 0 ohm\n main lugs\n voltage {voltage}\n{loads}\n}}\n"
    )


@pytest.mark.parametrize(
    ("voltage", "service", "loads", "percent"),
    [
        # 6 AWG, 150 ft: 0.0735 ohm a conductor. 40 A on each line of 120/240 V: 2.94 V of 120 V, nothing in the neutral
        ("120/240 V", SERVICE_240, ' 1 equipment "A" 4.8 kVA, 120 V 1-phase, power factor 1, 5 ft\n'
         ' 3 equipment "B" 4.8 kVA, 120 V 1-phase, power factor 1, 5 ft', 2.450),
        # 40 A on one line alone: out and back, 5.88 V of 120 V
        ("120/240 V", SERVICE_240, ' 1 equipment "A" 4.8 kVA, 120 V 1-phase, power factor 1, 5 ft', 4.900),
        # 40 A line to line: 5.88 V of 240 V
        ("120/240 V", SERVICE_240, ' 1,3 equipment "A" 9.6 kVA, 240 V 1-phase, power factor 1, 5 ft', 2.450),
        # 40 A on each of two lines of a wye: the neutral carries 40 A at 60 degrees to each: 1.5 x 2.94 V in phase
        ("120/208 V", SERVICE_208, ' 1 equipment "A" 4.8 kVA, 120 V 1-phase, power factor 1, 5 ft\n'
         ' 3 equipment "B" 4.8 kVA, 120 V 1-phase, power factor 1, 5 ft', 3.675),
    ],
)  # fmt: skip
def test_single_phase_three_wire_runs(voltage: str, service: str, loads: str, percent: float) -> None:
    # In the last the currents turn with their own voltages to 122.5 degrees apart; the neutral carries 0.96 of
    # them: the exact form is 3.60 %; the line-to-line form (2 x 5.77 V / 2 of 208 V) would say 3.26 %.
    close = 0.075 if service == SERVICE_208 else 0.001
    assert results(three_wire(voltage, loads, service)).feeders["LC"].drop_pct == pytest.approx(percent, abs=close)


def test_drop_along_a_busway_by_moments() -> None:
    # 30 A at 60 ft and 30 A at 120 ft, 0.01 ohm per 100 ft: at 120 ft (30 x 60 + 30 x 120) x 0.0001 = 0.54 V, x 1.732
    text = (
        board("")
        + """busway BW {
 fed from MSB, 0 ft, breaker 400 A
 rating 400 A
 length 150 ft
 impedance 0.01 ohm 0 ohm per 100 ft
 at 60 ft equipment "Near" 30 A, 480 V 3-phase, power factor 1, 0 ft
 at 120 ft equipment "Far" 30 A, 480 V 3-phase, power factor 1, 0 ft
}
"""
    )
    far = row_of(results(text), "Far").cumulative_drop_pct
    assert far == pytest.approx(100 * math.sqrt(3) * 0.54 / 480, rel=1e-3)
    assert row_of(results(text), "Near").cumulative_drop_pct == pytest.approx(100 * math.sqrt(3) * 0.36 / 480, rel=1e-3)
    unknown = text.replace(" impedance 0.01 ohm 0 ohm per 100 ft\n", "")
    assert row_of(results(unknown), "Far").cumulative_drop_pct is None
    assert "busway-impedance" in rules(unknown)


# --- motors --------------------------------------------------------------------------------------------------------

MOTORS = board(
    ' motor "A" 25 hp, 480 V 3-phase, 40 ft\n motor "B" 15 hp, 480 V 3-phase, 40 ft\n'
    ' motor "C" 10 hp, 480 V 3-phase, 40 ft',
    main="breaker 125 A",
)


def test_motor_branch_circuit() -> None:
    # 25 hp: 34 A (Table 430.250); 1.25 x 34 = 42.5 A: 8 AWG, 50 A; 250 % = 85 A, next 90 A; ground for 90 A: 8 AWG
    row = row_of(results(MOTORS), "A")
    assert row.table_a == 34
    assert row.conductors is not None
    assert row.device is not None
    assert (row.conductors.phase, row.conductors.ground, row.device.rating_a) == ("8", "8", 90)


def test_feeder_of_three_motors() -> None:
    # 1.25 x 34 + 21 + 14 = 77.5 A: 4 AWG, 85 A; the device at most 90 + 21 + 14 = 125 A (430.62(A))
    text = board("") + MOTORS[MOTORS.index(" motor") :].replace(
        " motor", "panelboard MP {\n fed from MSB, 60 ft\n main lugs\n motor", 1
    )
    assert wires(text, "MP").phase == "4"
    for device, allowed in ((90, True), (125, True), (150, False)):
        pinned = text.replace("60 ft\n", f"60 ft, breaker {device} A, phase 4 AWG\n")
        assert ("motor-feeder-ocpd" not in rules(pinned)) is allowed


def test_motors_further_down_count_for_the_feeder() -> None:
    # The same three motors one panel further down: still 125 A at most.
    lower = MOTORS[MOTORS.index(" motor") :].replace(
        " motor", "panelboard MP {\n fed from DP, 60 ft, breaker 125 A, phase 4 AWG\n main lugs\n motor", 1
    )
    text = board("") + "panelboard DP {\n fed from MSB, 60 ft, breaker 125 A, phase 4 AWG\n main lugs\n}\n" + lower
    assert "motor-feeder-ocpd" not in rules(text)
    assert "conductor-ampacity" not in rules(text)
    assert "motor-feeder-ocpd" in rules(text.replace("MSB, 60 ft, breaker 125 A", "MSB, 60 ft, breaker 150 A"))


def test_start_of_a_motor_by_its_code_letter() -> None:
    # 50 hp G: 6.29 x 50 = 314.5 kVA at 480 V: 732.6 mohm; 10 kA at X/R 6: 27.713 mohm. With 0.3: 219.8 + j698.8 against
    # 4.556 + j27.336: |224.3 + j726.2| = 760.0; dip 1 - 732.6 / 760.0 = 3.61 %
    service = SERVICE_480.replace("20 kA", "10 kA")
    row = row_of(results(board(' motor "M" 50 hp, 480 V 3-phase, code G, 0 ft', service)), "M")
    assert row.start_dip_pct == pytest.approx(3.61, abs=0.01)


# --- transformers, taps --------------------------------------------------------------------------------------------


def transformer(primary: str, length: str) -> str:
    return (
        board("")
        + f"""transformer T1 {{
 fed from MSB, 30 ft, breaker {primary}
 rating 75 kVA
 secondary 208Y/120 V
 impedance 4 %, X/R 2
 electrode building steel, 20 ft
 place indoor "Room"
}}
panelboard LP {{
 fed from T1, {length}
 main breaker 225 A
 place indoor "Room"
 equipment "E" 60 kVA, 208 V 3-phase, 20 ft
}}
"""
    )


def test_primary_and_secondary_of_a_75_kva_transformer() -> None:
    # 90.2 A primary, 208.2 A secondary. With secondary protection at 125 % (225 A), the primary may be 250 %: 225 A.
    # Secondary conductors carry the 225 A device without rounding up (240.21(C)): 4/0 AWG, 230 A. Bonding jumper for
    # 211.6 kcmil: 2 AWG (Table 250.102(C)(1)); grounding electrode conductor 2 AWG (Table 250.66).
    text = transformer("200 A", "9 ft")
    assert "xfmr-ocpd" not in rules(text)
    assert wires(text, "LP").phase == "4/0"
    assert wires(text, "LP").ground == "2"
    assert results(text).transformers["T1"].grounding_electrode_conductor == "2"
    assert "xfmr-ocpd" in rules(transformer("250 A, phase 250 kcmil", "9 ft"))


def test_secondary_conductors_end_at_25_ft() -> None:
    assert "secondary-length" not in rules(transformer("125 A", "25 ft"))
    assert "secondary-length" in rules(transformer("125 A", "26 ft"))


def tap(length: str, feed: str = "") -> str:
    more = f", {feed}" if feed else ""
    return (
        board("")
        + f"""wireway WW {{
 fed from MSB, 20 ft, breaker 400 A
 place indoor "Room"
}}
panelboard LP {{
 fed from WW tap, {length}{more}
 main breaker 100 A
 place indoor "Room"
 equipment "E" 30 kVA, 480 V 3-phase, 20 ft
}}
"""
    )


def test_taps_of_10_and_25_ft() -> None:
    # 10 ft: the rating of the main, 100 A, and a tenth of 400 A: 3 AWG, 100 A (240.21(B)(1)).
    # 25 ft: also a third of 400 A = 133.3 A: 1/0 AWG, 150 A (240.21(B)(2)).
    assert wires(tap("10 ft"), "LP").phase == "3"
    assert wires(tap("25 ft"), "LP").phase == "1/0"
    assert "tap-rule" not in rules(tap("10 ft"))
    assert "tap-rule" not in rules(tap("25 ft"))
    assert "tap-rule" in rules(tap("25 ft", "phase 3 AWG"))
    assert wires(tap("30 ft"), "LP").ampacity_a == 400  # no rule: the whole 400 A ahead, 2 x 3/0 AWG
    assert "tap-rule" in rules(tap("30 ft", "phase 1/0 AWG"))


def test_a_tap_outside_may_be_of_any_length() -> None:
    # 240.21(B)(5): outside but for the load end, ended in one device that the conductors carry: 3 AWG, 100 A
    text = tap("30 ft").replace("fed from WW tap, 30 ft", "fed from WW tap {\n run 200 ft in PVC underground\n }")
    assert wires(text, "LP").phase == "3"
    assert "tap-rule" not in rules(text)


# --- conductors and grounding --------------------------------------------------------------------------------------


def test_ambient_and_number_of_conductors() -> None:
    # 8 AWG THWN-2, 55 A at 90 C. 45 C ambient: sqrt((90 - 45) / (90 - 30)) = 0.87 (Table 310.15(B)(1)); 47.85 A
    line = ' equipment "E" 45 A, 480 V 3-phase, 40 ft, ambient 45 C'
    found = row_of(results(board(line)), "E").conductors
    assert found is not None
    assert found.ambient_factor == pytest.approx(0.87)
    assert found.phase == "8"
    assert found.ampacity_a == pytest.approx(55 * 0.87, rel=1e-3)


def test_equipment_ground_grows_with_the_phase() -> None:
    # 60 A: 10 AWG (10.38 kcmil). Phase 3 AWG for 6 AWG: 52.62 / 26.24 = 2.005; 20.8 kcmil: 6 AWG (8 AWG has 16.51)
    line = ' equipment "E" 60 A, 480 V 3-phase, 40 ft, breaker 60 A'
    plain = row_of(results(board(line)), "E").conductors
    grown = row_of(results(board(f"{line}, phase 3 AWG")), "E").conductors
    assert plain is not None
    assert grown is not None
    assert (plain.phase, plain.ground) == ("6", "10")
    assert grown.ground == "6"


def test_service_of_three_sets() -> None:
    # 3 x 400 kcmil = 1200 kcmil: electrode conductor 3/0 AWG (over 1100, Table 250.66); jumper 12.5 %, 150 kcmil: 3/0
    text = board(" electrode building steel, 20 ft", feed="30 ft, sets 3, phase 400 kcmil", main="breaker 1000 A")
    gear = results(text).gear["MSB"]
    assert gear.grounding_electrode_conductor.startswith("3/0")
    assert gear.main_bonding_jumper.startswith("3/0")


def test_raceway_of_four_wires_and_a_ground() -> None:
    # 4 x 0.2679 + 0.0507 = 1.1223 in2 of 3/0 and 6 AWG THHN; 40 % of 2 inch EMT is 1.342 in2, of 1-1/2 inch 0.814
    text = (
        board("") + "panelboard LP {\n fed from MSB, 60 ft, breaker 200 A, wire Cu THHN/THWN-2 in EMT\n main lugs\n}\n"
    )
    found = wires(text, "LP")
    assert (found.phase, found.neutral, found.ground, found.raceway_size) == ("3/0", "3/0", "6", "2")
    assert found.fill_pct == pytest.approx(100 * 1.1223 / 3.356, abs=0.05)


def test_flexible_conduit_has_a_size() -> None:
    # 3 x 0.0211 + 0.0211 = 0.0844 in2 of 10 AWG; 40 % of 1/2 inch FMC (0.317, from memory) is 0.127 in2
    line = ' equipment "E" 24 A, 480 V 3-phase, 10 ft, wire Cu THHN/THWN-2 in FMC'
    found = row_of(results(board(line)), "E").conductors
    assert found is not None
    assert (found.phase, found.raceway_size) == ("10", "1/2")


def test_a_device_rated_100_percent_spares_the_conductors_too() -> None:
    # 300 A continuous: 375 A and 500 kcmil with an ordinary device; 300 A and 350 kcmil (310 A) with one rated 100 %
    # (exception of 210.19(A)(1)); a motor keeps its 125 % (430.22)
    load = ' equipment "E" 300 A, 480 V 3-phase, continuous, 40 ft'
    plain = row_of(results(board(load)), "E").conductors
    spared = row_of(results(board(f"{load}, breaker 300 A, 100 % rated")), "E").conductors
    motor = row_of(
        results(board(' motor "M" 100 hp, 480 V 3-phase, 40 ft, breaker 250 A, 100 % rated')), "M"
    ).conductors
    assert plain is not None
    assert spared is not None
    assert motor is not None
    assert (plain.phase, spared.phase) == ("500", "350")
    assert motor.ampacity_a >= 1.25 * 124


def test_over_800_a_the_conductors_carry_the_device() -> None:
    # 900 A: device 1000 A, no rounding up (240.4(C)): 3 x 400 kcmil, 1005 A. 790 A: 800 A, 3 x 300 kcmil, 855 A;
    # 2 x 500 kcmil carry 760 A, less than the load
    found = results(board(' equipment "A" 900 A, 480 V 3-phase, 20 ft\n equipment "B" 790 A, 480 V 3-phase, 20 ft'))
    for name, device, size in (("A", 1000, "400"), ("B", 800, "300")):
        row = row_of(found, name)
        assert row.device is not None
        assert row.conductors is not None
        assert (row.device.rating_a, row.conductors.sets, row.conductors.phase) == (device, 3, size)


def test_aluminum_and_small_conductors() -> None:
    # 100 A: 1 AWG Al, 100 A, ground 6 AWG Al (Table 250.122); 14 AWG on 20 A and 12 AWG on 30 A break 240.4(D)
    line = ' equipment "E" 95 A, 480 V 3-phase, 20 ft, breaker 100 A, wire Al XHHW-2 in EMT'
    found = row_of(results(board(line)), "E").conductors
    assert found is not None
    assert (found.phase, found.ground) == ("1", "6")
    for size, device in ((14, 20), (12, 30)):
        small = f' equipment "E" 14 A, 480 V 3-phase, 20 ft, breaker {device} A, phase {size} AWG'
        assert "small-conductor" in rules(board(small))


def test_enlarged_for_drop() -> None:
    # 80 A over 900 ft, 3 % of 480 V = 14.4 V at 0.9: R cos + X sin at most 14.4 / (1.732 x 80 x 0.9) = 0.1155 ohm/kft:
    # 2/0 AWG has 0.1 x 0.9 + 0.054 x 0.436 = 0.1135; 1/0 AWG 0.132. Ground 8 AWG x 133.1 / 41.74 = 52.6 kcmil: 3 AWG
    load = ' equipment "E" 80 A, 480 V 3-phase, power factor 0.9, 900 ft, wire Cu THHN/THWN-2 in RMC'
    text = board(load).replace("fedfrom 1", "fedfrom 1\ndefaults { drop branch 3 % }")
    found = row_of(results(text), "E")
    assert found.conductors is not None
    assert (found.conductors.phase, found.conductors.ground) == ("2/0", "3")
    assert (found.drop_pct or 9) <= 3


# --- size of a transformer -------------------------------------------------------------------------------------------


def test_the_winding_that_carries_most_decides() -> None:
    # 4 kVA on one leg of 208Y/120 V is 33.3 A in one winding of three: a bank of 3 x 4 = 12 kVA, so 15 kVA, not 6 or 9
    text = board(
        " surge device 100 kA",
    ) + (
        "transformer T1 {\n fed from MSB, 20 ft\n secondary 208Y/120 V\n electrode building steel, 10 ft\n}\n"
        'panelboard LP1 {\n fed from T1, 10 ft\n main breaker\n place indoor "Hall"\n'
        ' 1 equipment "Kiln" 4 kVA, 120 V, noncontinuous, 30 ft\n}\n'
    )
    found = results(text).transformers["T1"]
    assert found.kva == 15
    assert found.loading_pct == pytest.approx(100 * 12 / 15, abs=0.2)
    assert "xfmr-ocpd" not in rules(text)


def test_a_center_tapped_winding_carries_half() -> None:
    # 6 kVA of 120 V on one line of 120/240 V is 50 A: two halves of 50 A x 120 V, 12 kVA, so 15 kVA, not 10
    text = board(" surge device 100 kA") + (
        "transformer T1 {\n fed from MSB, 20 ft\n secondary 120/240 V\n electrode building steel, 10 ft\n}\n"
        'panelboard LP1 {\n fed from T1, 10 ft\n main breaker\n place indoor "Hall"\n'
        ' 1 equipment "Kiln A" 3 kVA, 120 V, noncontinuous, 30 ft\n'
        ' 5 equipment "Kiln B" 3 kVA, 120 V, noncontinuous, 30 ft\n}\n'
    )
    found = results(text).transformers["T1"]
    assert found.kva == 15
    assert found.loading_pct == pytest.approx(100 * 12 / 15, abs=0.2)
