"""Load problems of our own in the manner of textbooks and examinations, worked by hand from the code's rules.

Each is written as a new user would write it, and the hand calculation stands beside its figures. Rules and factors:
NFPA 70, the edition that the text names (2023 where it names none), clause beside the figure.
"""

from __future__ import annotations

import math

import pytest
from tests.support.texts import category, compiled, loads_of, node

from fedfrom.results.types import NodeLoad

SINGLE = "120/240 V"
WYE = "208Y/120 V"
LARGE = "480Y/277 V"


def panel(inside: str, system: str = SINGLE, code: str = "NEC 2023", after: str = "") -> str:
    return f"""fedfrom 1
project "Problem" {{ code {code} }}
utility UT {{ voltage {system} }}
panelboard P {{
    fed from UT, 20 ft
{inside}
}}
{after}"""


def load(inside: str, system: str = SINGLE, code: str = "NEC 2023", after: str = "") -> NodeLoad:
    return node(loads_of(panel(inside, system, code, after)), "P")


def test_house_with_four_appliances() -> None:
    """220.41, 220.45: 8400 + 3000 + 1500 = 12 900, 3000 + 35 % of 9900 = 6465. 220.55 note 1: 14 kW, 8 x 1.10 = 8.8
    kW. 220.54: 5000. 220.53: 4.5 + 1.2 + 0.8 + 1.1 = 7.6 kW at 75 % = 5700. 220.60: 10 kW of heat over 6720 VA of
    cooling. Together 35 965 VA, 149.9 A."""
    found = load(
        """    dwelling 2_800 ft2, small-appliance 2, laundry 1
    range "Range" 14 kW
    dryer "Dryer" 5 kW
    water-heater "Water heater" 4.5 kW
    appliance "Dishwasher" 1.2 kW
    appliance "Disposer" 0.8 kW
    appliance "Compactor" 1.1 kW
    heating H-1 "Furnace" 10 kW
    cooling AC-1 "Air conditioner" 28 A, 240 V
""",
        after="noncoincident H-1 or AC-1\n",
    )
    assert category(found, "range") == pytest.approx(8800)
    assert category(found, "water-heater") + category(found, "appliance") == pytest.approx(5700)
    assert found.demand_va == pytest.approx(35965, abs=1)
    assert found.demand_a == pytest.approx(149.9, abs=0.1)


def test_existing_house_with_new_air_conditioner() -> None:
    """220.83(B): 4800 + 3000 + 1500 + 10 000 + 4500 + 5000 = 28 800: 8000 + 40 % of 20 800 = 16 320; the new unit
    at 100 %, 24 A x 240 V = 5760: 22 080 VA, 92 A."""
    text = """fedfrom 1
project "Problem" { code NEC 2023 }
utility UT { voltage 120/240 V }
existing load center P {
    fed from UT, 20 ft
    method optional existing dwelling
    dwelling 1_600 ft2, small-appliance 2, laundry 1
    range "Range" 10 kW
    water-heater "Water heater" 4.5 kW
    dryer "Dryer" 5 kW
    new cooling "Air conditioner" 24 A, 240 V
}
"""
    found = node(loads_of(text), "P")
    assert found.demand_va == pytest.approx(22080, abs=1)
    assert found.demand_a == pytest.approx(92, abs=0.05)


UNIT = """    dwelling 900 ft2, small-appliance 2, laundry 1
    range "Range" 8 kW
    water-heater "Water heater" 4 kW
    heating "Heat" 5 kW
    cooling "Air conditioner" 3 kVA, 240 V
"""


def flats(count: int, house: str = "") -> str:
    return f"""fedfrom 1
project "Problem" {{ code NEC 2023 }}
utility UT {{ voltage 120/240 V }}
meter center MC {{
    fed from UT, 20 ft
    method optional multifamily
{house}}}
for n in 1..{count} {{
    load center U[n] {{ fed from MC, 30 ft
{UNIT}}}
}}
"""


def test_twelve_flats_with_house_load() -> None:
    """220.84: 2700 + 3000 + 1500 + 8000 + 4000 + 5000 = 24 200 VA a unit (cooling is less than heat), 12 units at
    41 %: 119 064 VA; 220.84(B): house lighting of 4 kVA by the standard method beside it."""
    found = node(loads_of(flats(12, '    lighting "Halls" 4 kVA\n')), "MC")
    assert category(found, "dwelling units") == pytest.approx(119064, abs=1)
    assert found.demand_va == pytest.approx(123064, abs=1)


def test_two_flats_count_as_three() -> None:
    """220.85: three units like these, 3 x 24 200 at 45 % = 32 670 VA, is less than two by the standard method:
    lighting group 14 400, 3000 + 35 % of 11 400 = 6990; two 8 kW ranges 65 % of 16 = 10.4 kW; water heaters 8000;
    heat 10 000; air conditioners 6000, 25 % of the largest 750: 42 140 VA."""
    found = node(loads_of(flats(2)), "MC")
    assert found.demand_va == pytest.approx(32670, abs=1)
    standard = node(loads_of(flats(2).replace("method optional multifamily", "")), "MC")
    assert standard.demand_va == pytest.approx(42140, abs=1)


def test_unequal_ranges() -> None:
    """220.55 note 2, in the manner of Annex D, Example D6 part B (from memory): 5 of 11 kW taken as 12, 2 of 12, 20
    of 13.5, 3 of 18: 408 / 30 = 13.6 kW, 1.6 counts as 2: 45 kW x 1.10 = 49.5 kW."""
    ranges = "".join(
        f'    range "Ranges of {kw} kW" {kw} kW x {count}\n' for kw, count in ((11, 5), (12, 2), (13.5, 20), (18, 3))
    )
    assert category(load(ranges), "range") == pytest.approx(49500)


def test_small_cooking_appliances() -> None:
    """220.55 note 3: six cooktops of 3 kW at 59 % (column A) and six ovens of 4 kW at 43 % (column B): 10.62 +
    10.32 = 20.94 kW, less than 27 kW for twelve by column C."""
    found = load('    range "Cooktop" 3 kW x 6\n    range "Oven" 4 kW x 6\n')
    assert category(found, "range") == pytest.approx(20940)


def test_built_in_cooking_on_one_circuit() -> None:
    """220.55 note 4: a 6 kW cooktop and two 4 kW ovens on one circuit are a range of 14 kW: 8 x 1.10 = 8.8 kW, 36.7
    A; an oven alone has a circuit for its nameplate, 4 kW, 16.7 A."""
    found = compiled(
        panel(
            """    circuit "Kitchen" {
        range "Cooktop" 6 kW, 240 V, counter-mounted
        range "Ovens" 4 kW, 240 V, wall-mounted x 2
    }
    range "Oven" 4 kW, 240 V, wall-mounted
"""
        )
    )
    kitchen, oven = (row for row in found.results.circuits["P"] if row.kind == "load")
    assert kitchen.load_a == pytest.approx(8800 / 240, abs=0.01)
    assert kitchen.device is not None
    assert kitchen.device.rating_a == 40
    assert oven.load_a == pytest.approx(4000 / 240, abs=0.01)


def test_ten_dryers() -> None:
    """220.54: ten dryers at 50 %: 10 x 5.5 kW x 0.5 = 27.5 kW; to the neutral 70 % of it (220.61(B)), 19 250 VA."""
    found = load('    dryer "Dryers" 5.5 kW x 10\n')
    assert category(found, "dryer") == pytest.approx(27500)
    assert found.neutral_va == pytest.approx(19250)


def test_restaurant_kitchen() -> None:
    """220.56: seven pieces, 43 kW at 65 % = 27.95 kW, more than the two largest (24 kW). With the largest at 30 kW:
    59 kW at 65 % = 38.35 kW, but the two largest are 40 kW."""
    pieces = "".join(f'    kitchen "Piece {kw}" {kw} kW, 208 V 3-phase\n' for kw in (14, 10, 7.5, 5, 3, 2, 1.5))
    assert category(load(pieces, WYE), "kitchen") == pytest.approx(27950)
    assert category(load(pieces.replace("14 kW", "30 kW"), WYE), "kitchen") == pytest.approx(40000)


def test_office_floor() -> None:
    """220.42(A): 20 000 ft2 x 1.3 = 26 000 VA, the 125 % in it. 220.43: 150 outlets are 27 000 VA, 10 000 + 50 % of
    17 000 = 18 500 VA after demand, less than 1 VA/ft2: 20 000 VA."""
    found = load(
        '    lighting "Floor" 20_000 ft2 office\n    receptacles "Floor" 150 outlets, 20_000 ft2 office\n', WYE
    )
    assert category(found, "lighting") == pytest.approx(26000)
    assert category(found, "receptacles") == pytest.approx(20000)
    assert found.continuous_va == 0
    alone = load('    receptacles "Floor" 20_000 ft2 office\n', WYE)
    assert alone.demand_va == pytest.approx(20000)  # not reduced again by Table 220.47


def test_school() -> None:
    """220.86: 45 + 54 + 200 + 121 = 420 kVA on 30 000 ft2 is 14 VA/ft2: 3 at 100 %, 11 at 75 %: 90 + 247.5 = 337.5
    kVA."""
    found = load(
        """    method optional school
    lighting "School" 30_000 ft2 school
    receptacles "School" 300 outlets
    heating "Boiler" 200 kW, 480 V 3-phase
    kitchen "Kitchen" 121 kW, 480 V 3-phase
""",
        LARGE,
    )
    assert found.connected_va == pytest.approx(420000)
    assert found.demand_va == pytest.approx(337500)


def test_restaurant() -> None:
    """220.88: 280 kVA, not all-electric: 200 + 50 % of 80 = 240 kVA; all-electric: 160 + 10 % of 80 = 168 kVA."""
    text = '    method optional restaurant\n    kitchen "Kitchen" 280 kVA, 480 V 3-phase\n'
    assert load(text, LARGE).demand_va == pytest.approx(240000)
    all_electric = text.replace("optional restaurant", "optional all-electric restaurant")
    assert load(all_electric, LARGE).demand_va == pytest.approx(168000)


def test_new_load_on_a_measured_service() -> None:
    """220.87: 300 A on record at 125 % = 375 A; a new unit of 60 A: 435 A, under the 600 A of the service."""
    text = """fedfrom 1
project "Problem" { code NEC 2023 }
utility UT { voltage 208Y/120 V }
existing switchboard P {
    fed from UT, 20 ft
    main breaker 600 A
    measured 300 A, 12 months, to 2026-03-31, because "utility bills"
    receptacles "As found" 400 outlets
    new hvac "Roof unit" mca 60 A, mocp 80 A, 208 V 3-phase
}
"""
    assert node(loads_of(text), "P").design_a == pytest.approx(435, abs=0.1)


def test_five_motors() -> None:
    """430.24, Table 430.250 at 460 V: 52 + 21 + 21 + 14 + 25 % of 52 = 121 A."""
    found = load('    motor "A" 40 hp\n    motor "B" 15 hp x 2\n    motor "C" 10 hp\n', LARGE)
    assert found.design_a == pytest.approx(121, abs=0.05)


def test_motors_on_two_lines() -> None:
    """430.24, 430.248: on line A two motors of 9.8 A (1/2 hp, 115 V), on line B one of 16 A (1 hp): A 19.6 + 2.45,
    B 16 + 4."""
    found = load('    1,5 motor "Fans" 1/2 hp, 115 V 1-phase x 2\n    3 motor "Pump" 1 hp, 115 V 1-phase\n')
    assert found.phase_demand_a[:2] == pytest.approx((19.6 * 1.0 + 2.45, 20.0), abs=0.01)


def test_motor_on_a_drive() -> None:
    """430.122(A): a drive of 58 A input, 40 hp (52 A by table): the feeder carries 58 A, its 25 % 14.5 A."""
    found = load('    motor "Fan" 40 hp, drive 58 A\n', LARGE)
    assert found.demand_va == pytest.approx(1.25 * 58 * 480 * math.sqrt(3))
    assert found.design_a == pytest.approx(72.5, abs=0.05)


def test_group_of_arc_welders() -> None:
    """630.11(A), (B): primary 60, 50, 40, 30, 20 A at 50 % duty (0.71): 42.6 + 35.5 + 0.85 x 28.4 + 0.70 x 21.3 +
    0.60 x 14.2 = 125.7 A."""
    lines = "".join(f'    welder "W{a}" {a} A, 480 V 3-phase, arc, duty 50 %\n' for a in (60, 50, 40, 30, 20))
    found = load(lines, LARGE)
    assert found.demand_a == pytest.approx(42.6 + 35.5 + 0.85 * 28.4 + 0.70 * 21.3 + 0.60 * 14.2, abs=0.05)


@pytest.mark.parametrize(("code", "each"), [("NEC 2023", 7200), ("NEC 2020", 5000)])
def test_vehicle_chargers(code: str, each: float) -> None:
    """220.57 (2023): at least 7200 VA each; before, the nameplate. Continuous: 125 % in sizing."""
    found = load('    ev-charger "Spaces" 5 kW, 208 V 1-phase x 6\n', WYE, code)
    assert found.demand_va == pytest.approx(6 * each)
    assert found.continuous_va == pytest.approx(6 * each)


def test_managed_vehicle_chargers() -> None:
    """625.42: ten chargers of 40 A, 208 V are 83.2 kVA connected; a system that holds them to 120 A three-phase is
    43.2 kVA."""
    inside = (
        '    ev-charger "Spaces" 40 A, 208 V 1-phase x 10\n    managed ev-charger to 120 A because "listed system"\n'
    )
    found = load(inside, WYE)
    assert found.connected_va == pytest.approx(83200)
    assert found.demand_va == pytest.approx(120 * 208 * math.sqrt(3))


def test_elevators_by_duty() -> None:
    """430.22(E), 620.14: four machines of 25 hp, 460 V (34 A), rated 60 min: 90 % of 34 = 30.6 A, four 122.4 A, at
    0.85 104 A. A single one of them: 30.6 A for its conductors; without a duty cycle 42.5 A (both tables from
    memory)."""
    found = load('    elevator "Cars" 25 hp, 460 V 3-phase, duty 60 min x 4\n', LARGE)
    assert found.design_a == pytest.approx(104.04, abs=0.05)
    one = load('    elevator "Car" 25 hp, 460 V 3-phase, duty 60 min\n', LARGE)
    assert one.design_a == pytest.approx(30.6, abs=0.05)
    assert load('    elevator "Car" 25 hp, 460 V 3-phase\n', LARGE).design_a == pytest.approx(42.5, abs=0.05)


def test_shop_front() -> None:
    """220.46(A), (B), 220.14(F): 20 ft of window 4000 VA, 25 ft of track 13 x 150 = 1950 VA, a sign of 600 VA as
    1200 VA; all continuous: 7150 VA, 8937.5 VA in sizing."""
    found = load('    show-window "Front" 20 ft\n    track "Shop" 25 ft\n    sign "Sign" 600 VA\n')
    assert found.demand_va == pytest.approx(7150)
    assert found.demand_va + 0.25 * found.continuous_va == pytest.approx(8937.5)


@pytest.mark.parametrize(("code", "expected"), [("NEC 2023", 15000), ("NEC 2020", 25000)])
def test_patient_care_receptacles(code: str, expected: float) -> None:
    """220.110(1): 40 kVA in category 2: 5 + 50 % of 5 + 25 % of 30 = 15 kVA; before 2023 as others: 10 + 15 = 25
    kVA."""
    found = load('    receptacles "Ward" 40 kVA, patient care category 2\n', WYE, code)
    assert category(found, "receptacles") == pytest.approx(expected)


def test_patient_care_and_other_receptacles_apart() -> None:
    """220.110(2) for category 3 and Table 220.47 for the rest, each on its own sum: 12 + 12 kVA are 11 + 11, not 17
    kVA."""
    found = load(
        '    receptacles "Exam rooms" 12 kVA, patient care category 3\n    receptacles "Offices" 12 kVA\n', WYE
    )
    assert category(found, "receptacles") == pytest.approx(22000)


@pytest.mark.parametrize(("code", "expected"), [("NEC 2023", 27500), ("NEC 2017", 26000)])
def test_hotel_rooms(code: str, expected: float) -> None:
    """220.45 (2023): 30 000 ft2 x 1.7 = 51 000: 60 % of 20 000 + 50 % of 31 000 = 27 500 VA. 2017: 2 VA/ft2, 60
    000: 50 % of 20 000 + 40 % of 40 000 = 26 000 VA."""
    assert load('    lighting "Rooms" 30_000 ft2 hotel\n', WYE, code).demand_va == pytest.approx(expected)


def test_warehouse_2017() -> None:
    """Table 220.12, 220.42 (2017): 60 000 ft2 x 0.25 = 15 000: 12 500 + 50 % of 2500 = 13 750 VA."""
    assert load('    lighting "Hall" 60_000 ft2 warehouse\n', LARGE, "NEC 2017").demand_va == pytest.approx(13750)


def test_neutral_of_a_three_wire_feeder_of_a_wye() -> None:
    """220.61(A), (C)(1): two lines and neutral of a wye system: no reduction, 30 kVA on each line is 250 A in the
    neutral; on a 120/240 V system it is 200 + 70 % of 50 = 235 A."""
    inside = '    1 appliance "Line A" 30 kVA, 120 V\n    3 appliance "Line B" 30 kVA, 120 V\n'
    text = panel(inside, WYE).replace("    fed from UT, 20 ft\n", "    fed from UT, 20 ft\n    voltage 120/208 V\n")
    assert node(loads_of(text), "P").neutral_a == pytest.approx(250, abs=0.1)
    assert load(inside).neutral_a == pytest.approx(235, abs=0.1)


def test_neutral_with_nonlinear_load() -> None:
    """220.61(C)(2): of 300 A on each line of a wye system 120 A is nonlinear: only the linear part over 200 A is
    reduced: 300 - 30 % of 100 = 270 A. All of it nonlinear: 300 A."""
    lines = "".join(
        f'    {n} appliance "Linear {n}" 180 A, 120 V\n    {n + 1} appliance "Electronic {n}" 120 A, 120 V, nonlinear\n'
        for n in (1, 3, 5)
    )
    found = load(lines, WYE).neutral_a
    assert found == pytest.approx(270, abs=0.1)
    assert load(lines.replace(", 120 V\n", ", 120 V, nonlinear\n"), WYE).neutral_a == pytest.approx(300, abs=0.1)


def test_mixed_circuit() -> None:
    """210.20(A), 210.19(A): 12 A of continuous lighting and 5 A of receptacles on one circuit: 1.25 x 12 + 5 = 20
    A, not 1.25 x 17 = 21.25 A: a 20 A device."""
    found = compiled(
        panel('    circuit "Kiosk" {\n        lighting 12 A, 120 V\n        receptacles 5 A, 120 V\n    }\n', WYE)
    )
    (row,) = (row for row in found.results.circuits["P"] if row.kind == "load")
    assert (row.load_a, row.continuous_a) == pytest.approx((17, 12))
    assert row.device is not None
    assert row.device.rating_a == 20


def test_space_heating_is_continuous() -> None:
    """424.4(B), 220.51, 215.3: 30 kW at 480 V is 36.1 A of load, 45.1 A in sizing; written noncontinuous, and in a
    dwelling unit, 36.1 A and 125 A."""
    found = load('    heating "Unit heater" 30 kW, 480 V 3-phase\n', LARGE)
    assert (found.demand_a, found.design_a) == pytest.approx((36.08, 45.11), abs=0.01)
    assert load('    heating "Unit heater" 30 kW, 480 V 3-phase, noncontinuous\n', LARGE).design_a == pytest.approx(
        36.08, abs=0.01
    )
    house = load('    dwelling 1_000 ft2, small-appliance 2\n    heating "Furnace" 30 kW\n')
    assert house.continuous_va == 0


def test_thermal_storage_heating() -> None:
    """220.82(C)(6): 12 kW of thermal storage at 100 % over an air conditioner of 5 kVA; general loads 10 000 + 40 %
    of (4500 + 4500 + 12 000 - 10 000) = 14 400: 26 400 VA."""
    found = load(
        """    method optional dwelling
    dwelling 1_500 ft2, small-appliance 2, laundry 1
    range "Range" 12 kW
    heating "Storage heaters" 3 kW, continuous x 4
    cooling "Air conditioner" 5 kVA, 240 V
"""
    )
    assert found.demand_va == pytest.approx(26400, abs=1)


def test_x_ray_rooms() -> None:
    """517.73(A)(2) (from memory): 100, 80 and 60 kVA momentary: 50 + 20 + 6 = 76 kVA."""
    lines = "".join(f'    x-ray "Room {kva}" {kva} kVA momentary, 5 kVA long-time\n' for kva in (100, 80, 60))
    assert category(load(lines, LARGE), "x-ray") == pytest.approx(76000)


def test_engineers_own_factor() -> None:
    """220.14(A) with the engineer's reason: 100 kW of ovens at 60 %."""
    inside = '    equipment "Kilns" 50 kW, 480 V 3-phase, demand 60 % because "one in use while one cools" x 2\n'
    found = load(inside, LARGE)
    assert found.demand_va == pytest.approx(60000)
    assert "one in use" in found.categories[0].factor


def test_parks_and_piers() -> None:
    """550.31: 25 lots of 14 kVA count 16 kVA, at 24 %: 96 kVA. 551.73(A): 12 sites of 50 A, 240 V and 8 of 30 A, 120 V:
    172.8 kVA, 20 at 45 % = 77.76 kVA. 555.6: ten receptacles of 30 A, 120 V at 80 %: 28.8 kVA (all from memory)."""
    lots = load('    mobile-home "Lots" 14 kVA x 25\n')
    assert lots.demand_va == pytest.approx(96000)
    assert lots.neutral_a == pytest.approx(200 + 0.7 * 200)
    sites = load('    rv-site "Large" 50 A, 240 V x 12\n    rv-site "Small" 30 A, 120 V x 8\n')
    assert sites.demand_va == pytest.approx(77760)
    assert load('    shore-power "Pier" 30 A, 120 V x 10\n').demand_va == pytest.approx(28800)


def test_farm() -> None:
    """Tables 220.102 and 220.103 (from memory), in VA at 240 V. Barn: 36 000 VA, of which 20 000 run together: 20 000 +
    50 % of 14 400 + 25 % of 1600 = 27 600. Shop: 12 000, less than 60 A: 12 000. Well: a 10 hp motor, 50 A x 240 =
    12 000, at 125 % 15 000. Service: 27 600 + 75 % of 15 000 + 65 % of 12 000 beside the dwelling."""
    text = """fedfrom 1
project "Farm" { code NEC 2023 }
utility UT { voltage 120/240 V }
switchboard F {
    fed from UT, 40 ft
    method farm
}
panelboard BARN { fed from F, 200 ft
    method farm building
    equipment "Milking" 20 kVA, 240 V, simultaneous
    equipment "Feed mill" 16 kVA, 240 V
}
panelboard SHOP { fed from F, 150 ft
    method farm building
    equipment "Shop" 12 kVA, 240 V
}
panelboard WELL { fed from F, 300 ft
    method farm building
    motor "Well pump" 10 hp, 230 V
}
load center HOUSE { fed from F, 100 ft
    dwelling 1_000 ft2, small-appliance 2
    appliance "Dishwasher" 800 VA
}
"""
    work = loads_of(text)
    barn, shop, well = (node(work, tag).demand_va for tag in ("BARN", "SHOP", "WELL"))
    assert (barn, shop, well) == pytest.approx((27600, 12000, 15000))
    house = node(work, "HOUSE").demand_va
    assert house == pytest.approx(3000 + 0.35 * 3000 + 800)
    assert node(work, "F").demand_va == pytest.approx(27600 + 0.75 * 15000 + 0.65 * 12000 + house)


def test_lighting_by_outlets() -> None:
    """220.14(L), (E): 40 outlets of 180 VA are 7200 VA, 12 heavy-duty lampholders of 600 VA 7200 VA."""
    found = load('    lighting "Pendants" [40 * 180 VA]\n    lighting "High bay" [12 * 600 VA]\n', WYE)
    assert found.demand_va == pytest.approx(14400)
    assert found.continuous_va == pytest.approx(14400)


def test_cooking_that_the_table_does_not_cover() -> None:
    """Table 220.55 is for more than 1.75 kW, its notes go to 27 kW: a hot plate of 1.5 kW and an oven of 30 kW count in
    full beside a 12 kW range of 8 kW demand."""
    found = load('    range "Range" 12 kW\n    range "Hot plate" 1.5 kW\n    range "Hearth" 30 kW\n')
    assert category(found, "range") == pytest.approx(8000 + 1500 + 30000)


@pytest.mark.parametrize(
    ("written", "amperes"), [("", 126.0), (", power factor 0.9", 138.6), (", power factor 80 %", 157.5)]
)
def test_synchronous_motor(written: str, amperes: float) -> None:
    """Table 430.250, synchronous columns: 125 hp at 460 V 126 A at unity, x 1.1 at 90 %, x 1.25 at 80 %; at 125 %."""
    found = load(f'    motor "Compressor" 125 hp, 460 V 3-phase, design synchronous{written}\n', LARGE)
    assert found.design_a == pytest.approx(1.25 * amperes, abs=0.05)
