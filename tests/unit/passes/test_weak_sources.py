"""Closed transition, the smallest fault, the dip at a motor's start, single-phase motors, stated half windings."""

from __future__ import annotations

import pytest
from tests.support.sizing import compile_text, row_of

from fedfrom.results.types import Results

SWITCHED = """fedfrom 1
utility UT {
 voltage 480Y/277 V
 fault 20 kA at service point, X/R 8
}
switchboard MSB { fed from UT, 0 ft }
generator G1 {
 voltage 480Y/277 V
 rating 150 kVA
 subtransient 12 %, X/R 8
 bond none
}
transfer switch ATS1 {
 normal from MSB, 0 ft
 emergency from G1, 0 ft
 transition closed
 rating 260 A
 system optional standby
}
panelboard SL1 {
 fed from ATS1, 0 ft
 motor "Fan" 20 hp, code G, 90 ft
}
"""


def results(text: str) -> Results:
    return compile_text(text)[0].results


def test_closed_transition_adds_both_sources() -> None:
    found = results(SWITCHED.replace('motor "Fan" 20 hp, code G', 'equipment "Fan" 9 kVA, 480 V 3-phase'))
    faults = found.faults["SL1"]
    # 150 kVA at 12 %: 180.4 A / 0.12 = 1503.5 A, with R = X / 8 1491.9 A; one angle, so amperes add
    assert faults["Normal"].three_phase_a == pytest.approx(20_000, rel=1e-9)
    assert faults["UT lost"].three_phase_a == pytest.approx(1_491.9, rel=1e-4)
    assert faults["ATS1 in closed transition"].three_phase_a == pytest.approx(21_491.9, rel=1e-5)


def test_an_open_transition_has_no_such_state() -> None:
    found = results(SWITCHED.replace("transition closed", "transition open"))
    assert [state.name for state in found.states] == ["Normal", "UT lost"]


def test_both_supplies_from_one_source_are_no_closed_transition() -> None:
    text = SWITCHED.replace("emergency from G1, 0 ft", "emergency from MSB, 10 ft")
    assert not any("closed transition" in state.name for state in results(text).states)


def test_weakest_state_governs_start_and_smallest_fault() -> None:
    row = row_of(results(SWITCHED), "Fan")
    assert (row.start_dip_state, row.least_fault_state) == ("UT lost", "UT lost")
    assert row.least_fault_a is not None
    assert row.least_fault_a < (row.fault_load_end_a or 0) / 2
    # 20 hp G: 125.8 kVA against 1491.9 A x 480 V x 1.732 = 1240 kVA: about a tenth
    assert row.start_dip_pct == pytest.approx(100 * 125.8 / (125.8 + 1240), abs=0.8)


@pytest.mark.parametrize("more", ["soft starter", "drive", "starter reduced voltage"])
def test_no_dip_where_the_starter_decides(more: str) -> None:
    assert row_of(results(SWITCHED.replace("code G", f"code G, {more}")), "Fan").start_dip_pct is None


def test_wye_delta_takes_a_third() -> None:
    full = row_of(results(SWITCHED), "Fan").start_dip_pct or 0
    third = row_of(results(SWITCHED.replace("code G", "code G, starter wye-delta")), "Fan").start_dip_pct or 0
    assert third == pytest.approx(full / 3, rel=0.1)


def single_phase(lines: str, transformer: str = "") -> Results:
    return results(
        f"fedfrom 1\nutility UT {{\n voltage 120/240 V\n transformer 50 kVA, 2 %, X/R 5{transformer}\n}}\n"
        f"load center LC {{\n fed from UT, 0 ft\n{lines}\n}}\n"
    )


def test_a_single_phase_motor_feeds_a_fault() -> None:
    # 5 hp at 230 V: 28 A (Table 430.248), 4 times at X/R 5, the angle of the transformer: amperes add
    without, with_motor = single_phase(""), single_phase(' motor "Pump" 5 hp, 240 V 1-phase, 10 ft')
    plain, more = (found.faults["LC"]["Normal"].line_line_a for found in (without, with_motor))
    assert plain is not None
    assert more == pytest.approx(plain + 112, rel=1e-9)


def test_a_stated_half_winding_replaces_the_rule() -> None:
    # 50 kVA / 120 V / 0.025 = 16 667 A
    found = single_phase("", ", half winding 2.5 % X/R 5").faults["LC"]["Normal"]
    assert found.line_ground_a == pytest.approx(16_667, rel=1e-4)


def test_a_tolerance_is_taken_off() -> None:
    plain, low = single_phase(""), single_phase("", ", tolerance 7.5 %")
    a, b = (found.faults["LC"]["Normal"].line_line_a or 0 for found in (plain, low))
    assert b == pytest.approx(a / 0.925, rel=1e-9)


TWO_BUSES = """fedfrom 1
utility UA {
 voltage 480Y/277 V
 fault 20 kA at service point, X/R 8
}
utility UB {
 voltage 480Y/277 V
 fault 15 kA at service point, X/R 8
}
switchboard A {
 fed from UA, 0 ft
 paralleling
 main breaker 800 A
}
switchboard B {
 fed from UB, 0 ft
 paralleling
 main breaker 800 A
}
tie T between A and B, breaker 800 A, normally closed
"""


def test_sources_over_a_closed_tie_add_up() -> None:
    faults = results(TWO_BUSES).faults
    assert faults["A"]["Normal"].three_phase_a == pytest.approx(35_000, rel=1e-9)
    assert faults["B"]["Normal"].three_phase_a == pytest.approx(35_000, rel=1e-9)


def test_a_loop_of_wires_is_out_of_the_method() -> None:
    text = TWO_BUSES.replace("fed from UA, 0 ft", "fed from M, 40 ft").replace("fed from UB, 0 ft", "fed from M, 60 ft")
    design, findings = compile_text(text + "switchboard M { fed from UA, 0 ft }\n")
    told = [finding.message for finding in findings if finding.rule == "fault-not-computed"]
    assert any("loops are out of the method" in message for message in told)
    assert "Normal" not in design.results.faults.get("A", {})


ONE_RUN = """fedfrom 1
utility UT {
 voltage 480Y/277 V
 fault 20 kA at service point, X/R 8
}
panelboard P { fed from UT, 100 ft, phase 1 AWG, wire Cu XHHW-2 in RMC }
"""


def at_temperature(degrees: str, text: str = ONE_RUN) -> Results:
    return results(text.replace("fedfrom 1", f"fedfrom 1\ndefaults {{ fault temperature {degrees} }}"))


def test_cool_conductors_for_the_greatest_fault() -> None:
    # source 20 kA at X/R 8: 1.7187 + j13.749 mohm; 100 ft of 1 AWG Cu (0.16 + j0.057): 16 + j5.7 mohm at 75 C,
    # |17.719 + j19.449| = 26.310: 10 533 A; at 20 C (the default) 16 x 254.5 / 309.5 = 13.157, |14.875 + j19.449| =
    # 24.486: 11 318 A; at 25 C 16 x 259.5 / 309.5 = 13.415, |15.134 + j19.449| = 24.643: 11 245 A
    hot, plain, mild = at_temperature("75 C"), results(ONE_RUN), at_temperature("25 C")
    for found, amperes, told in ((hot, 10_533, "75 C (Table 9)"), (plain, 11_318, "20 C"), (mild, 11_245, "25 C")):
        fault = found.faults["P"]["Normal"]
        assert fault.three_phase_a == pytest.approx(amperes, rel=1e-4)
        assert fault.basis.endswith(f"conductors at {told}")
        # drop and the smallest fault stay hot, and so does what is told of the wire
        assert found.feeders["P"].least_fault_a == hot.feeders["P"].least_fault_a
        assert found.feeders["P"].drop_pct == hot.feeders["P"].drop_pct
        conductors = found.feeders["P"].conductors
        assert conductors is not None
        assert conductors.r_ohm_per_kft == 0.16


def test_the_correction_is_a_line_of_the_calculation() -> None:
    steps = {step.formula: step for step in results(ONE_RUN).derivations["P.fault"].steps}
    line = steps["R at 20 C = R75 (234.5 + 20) / (234.5 + 75), Cu"]
    assert (line.numbers, line.result) == ("0.16 x 254.5 / 309.5", "0.131567 ohm per 1000 ft")
    assert line.clause == "Chapter 9, Table 8, Note 2"
    hot = at_temperature("75 C").derivations["P.fault"]
    assert not any(step.formula.startswith("R at") for step in hot.steps)


def test_a_stated_impedance_is_never_corrected() -> None:
    stated = results(ONE_RUN.replace("1 AWG,", "1 AWG, impedance 0.16 ohm 0.057 ohm,"))
    assert stated.faults["P"]["Normal"].three_phase_a == pytest.approx(10_533, rel=1e-4)
    assert not any(step.formula.startswith("R at") for step in stated.derivations["P.fault"].steps)


def test_aluminum_has_its_own_correction() -> None:
    # 4/0 AWG Al in RMC 0.100 + j0.051; 100 ft: 10 x 248.1 / 303.1 = 8.1854 mohm; |9.904 + j18.849| = 21.293: 13 015 A
    found = results(ONE_RUN.replace("1 AWG, wire Cu", "4/0 AWG, wire Al"))
    assert found.faults["P"]["Normal"].three_phase_a == pytest.approx(13_015, rel=1e-4)


def test_the_end_of_a_branch_circuit_is_cool_too() -> None:
    # 100 ft of 12 AWG Cu in RMC: 200 + j6.8 mohm at 75 C, 200 x 254.5 / 309.5 = 164.46 at 20 C; on 1.7187 + j13.749
    # |166.18 + j20.55| = 167.44: 1 655 A, hot |201.72 + j20.55| = 202.76: 1 367 A
    line = "panelboard Q {\n fed from UT, 0 ft\n"
    line += ' equipment "E" 6 kVA, 480 V 3-phase, 100 ft, phase 12 AWG, wire Cu XHHW-2 in RMC\n}\n'
    text = ONE_RUN[: ONE_RUN.index("panelboard")] + line
    assert row_of(results(text), "E").fault_load_end_a == pytest.approx(1_655, rel=5e-4)
    assert row_of(at_temperature("75 C", text), "E").fault_load_end_a == pytest.approx(1_367, rel=5e-4)


def test_runs_of_ties_and_along_a_busway_are_worked_out() -> None:
    text = """fedfrom 1
utility UA {
 voltage 480Y/277 V
 fault 20 kA at service point, X/R 8
}
switchboard A { fed from UA, 0 ft }
busway BW {
 fed from A, 0 ft
 rating 400 A
 length 100 ft
 impedance 0.01 ohm 0.01 ohm per 100 ft
}
panelboard P { fed from BW at 50 ft, 10 ft, phase 1 AWG, wire Cu XHHW-2 in RMC }
"""
    # 10 ft of 1 AWG: 1.6 x 0.82229 = 1.316 + j0.570 mohm; half of the busway 5 + j5
    steps = results(text).derivations["P.fault"].steps
    along = next(step for step in steps if step.formula == "Z(run) with BW up to this place")
    assert (along.numbers, along.result) == ("(1.316 + j0.570) + (5.000 + j5.000)", "6.316 + j5.570 mohm")
    tied = TWO_BUSES.replace("normally closed", "normally open, 60 ft")
    lines = [step.formula for step in results(tied).derivations["B.fault"].steps]
    assert sum(line.startswith("Z(run) = L (R + jX)") for line in lines) == 1
