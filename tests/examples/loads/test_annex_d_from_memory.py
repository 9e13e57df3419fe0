"""Examples of NFPA 70, Informative Annex D, that are remembered, not compared with a page: recomputed by hand."""

from __future__ import annotations

import pytest
from tests.support.texts import category, loads_of, node


def test_d2b_optional_method_cooling_governs() -> None:
    """source: Example D2(b), from memory. 4500 + 3000 + 1500 + 2 x 4000 + 5100 + 4500 + 1200 + 5000 = 32 800: 10
    000 + 40 % of 22 800 = 19 120; 36 A at 240 V = 8640 over 40 % of the heat: 27 760 VA, 116 A. Neutral: 5100, 70 %
    of 55 % of 13 100 (three cooking units, column B) = 5044, 70 % of 5000, 1200: 14 844 VA."""
    text = """fedfrom 1
project "Example" { code NEC 2017 }
utility UT { voltage 120/240 V }
load center LC {
    fed from UT, 20 ft
    method optional dwelling
    dwelling 1_500 ft2, small-appliance 2, laundry 1
    range "Oven" 4 kW, 240 V, wall-mounted x 2
    range "Cooktop" 5.1 kW, 240 V, counter-mounted
    water-heater "Water heater" 4.5 kW
    appliance "Dishwasher" 1.2 kW
    dryer "Washer and dryer" 5 kW
    heating "Room heater" 1.5 kW x 5
    cooling "Air conditioner" 36 A, 240 V
}
"""
    found = node(loads_of(text), "LC")
    assert found.demand_va == pytest.approx(27760, abs=1)
    assert found.demand_a == pytest.approx(116, abs=0.5)
    assert found.neutral_va == pytest.approx(14844, abs=1)


def test_d3a_industrial_feeder() -> None:
    """source: Example D3(a), from memory. Not continuous: receptacles 22 x 180 = 3960; welders of 23 A, 480 V at 60
    % duty (0.78), 8611 + 8611 + 85 % of 8611 = 24 541; motors of 7-1/2 and 5 hp, 9145 + 6318, and 25 % of 9145: 46
    250 VA. Continuous: lighting 11 600, dryers 3 x 15 000: 56 600 VA, at 125 % 70 750. 117 000 VA, 141 A."""
    text = """fedfrom 1
project "Example" { code NEC 2017 }
utility UT { voltage 480Y/277 V }
panelboard F1 {
    fed from UT, 20 ft
    lighting "Building" 11.6 kVA
    motor "Air compressor" 7-1/2 hp, 460 V 3-phase
    motor "Grinder" 5 hp, 460 V 3-phase
    welder "Welders" 23 A, 480 V 1-phase, arc, duty 60 % x 3
    equipment "Process dryers" 15 kW, 480 V 3-phase, continuous x 3
}
transformer T1 {
    fed from F1, 10 ft
    secondary 208Y/120 V
}
panelboard R1 {
    fed from T1, 10 ft
    receptacles "Building" 22 outlets
}
"""
    work = loads_of(text)
    found = node(work, "F1")
    assert category(found, "welder") == pytest.approx(24541, abs=5)
    assert found.demand_va - found.continuous_va == pytest.approx(46250, abs=10)
    assert found.continuous_va == pytest.approx(56600)
    step = next(step for step in work.derivations["F1.demand"].steps if step.formula.startswith("I sizing = "))
    assert step.result == "141 A"


def test_d5a_ranges_on_a_three_phase_feeder() -> None:
    """source: Example D5(a), from memory. 20 ranges, 7 between two phases: twice 7 is 14, column C 29 kW, half of
    it for a phase, three phases 43.5 kW."""
    text = """fedfrom 1
project "Example" { code NEC 2023 }
utility UT { voltage 208Y/120 V }
meter center MC { fed from UT, 20 ft }
for n in 1..20 {
    load center U[n] {
        fed from MC, 30 ft
        voltage 120/208 V
        dwelling 840 ft2, small-appliance 2
        range "Range" 12 kW, 208 V 1-phase
    }
}
"""
    work = loads_of(text)
    assert [work.edge_phases[f"U{n}"] for n in (1, 2, 3, 4)] == ["AB", "BC", "CA", "AB"]
    assert category(node(work, "MC"), "range") == pytest.approx(43500)


def test_d9_elevators_on_generator_field_control() -> None:
    """source: Example D9, from memory. Six motor-generator sets of 52 A nameplate, rated for continuous duty, 140 %
    (73 A), with exciters of 12 A: 0.79 x 6 x 72.8 + 6 x 1.25 x 12 = 345 + 90 = 435 A; the page rounds up to 73 A
    and 436 A."""
    text = """fedfrom 1
project "Example" { code NEC 2017 }
utility UT { voltage 480Y/277 V }
panelboard EL {
    fed from UT, 20 ft
    elevator "Motor-generator set" 40 hp, 460 V 3-phase, nameplate 52 A, duty continuous x 6
    equipment "Exciter" 12 A, 460 V 3-phase, continuous x 6
}
"""
    assert node(loads_of(text), "EL").design_a == pytest.approx(435, abs=1.1)


def test_d11_mobile_home() -> None:
    """source: Example D11, from memory. 700 ft2: 2100 + 3000 + 1500 = 6600, 3000 + 35 % of 3600 = 4260 VA, 17.75 A
    on each line; heater 1000 VA 4.2 A; dishwasher 400 VA 3.3 A on line A; fan 200 VA at 125 % 2.1 A on line B;
    range 7000 W at 80 % 23.3 A: 48.6 A and 47.3 A, a 50 A cord."""
    text = """fedfrom 1
project "Example" { code NEC 2017 }
utility UT { voltage 120/240 V }
load center LC {
    fed from UT, 20 ft
    dwelling 700 ft2, small-appliance 2, laundry 1
    heating "Heater" 1 kW
    1 appliance "Dishwasher" 400 VA, 120 V
    3 motor "Exhaust fan" 200 VA, 120 V
    range "Range" 7 kW
}
"""
    found = node(loads_of(text), "LC")
    assert found.phase_demand_a[:2] == pytest.approx((48.58, 47.33), abs=0.05)
