"""Loads at every node: gathered from below, by state, with what the text says of demand."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.support.models import item, load, model
from tests.support.texts import category, loads_of, loads_of_model, node

from fedfrom.model.items import Item

HEAD = """fedfrom 1
project "Loads" { code NEC 2023 }
utility UT { voltage 480Y/277 V }
"""


def test_receptacle_demand_is_taken_from_the_sum_not_from_the_demands_below() -> None:
    """source: NEC 220.47: three panels of 10 kVA have no reduction each, 10 + 50 % of 20 kVA together."""
    panels = "".join(f'panelboard P{n} {{ fed from T1, 10 ft\nreceptacles "Desks" 10 kVA }}\n' for n in (1, 2, 3))
    work = loads_of(HEAD + "transformer T1 { fed from UT, 20 ft\nsecondary 208Y/120 V }\n" + panels)
    assert category(node(work, "P1"), "receptacles") == pytest.approx(10_000)
    assert category(node(work, "T1"), "receptacles") == pytest.approx(20_000)
    assert node(work, "UT").demand_va == pytest.approx(20_000)


def test_factor_and_clause_of_every_line() -> None:
    work = loads_of(HEAD.replace("480Y/277 V", "208Y/120 V") + 'panelboard P { fed from UT\nreceptacles "D" 30 kVA }\n')
    line = node(work, "P").categories[0]
    assert line.factor == "first 10 kVA at 100 %, rest at 50 %"
    assert line.clause == "NEC 2023, Table 220.47"
    derivation = work.derivations["P.demand"]
    assert derivation.steps[0].formula == "S(receptacles), first 10 kVA at 100 %, rest at 50 %"
    assert derivation.steps[0].numbers == "10,000 x 1 + 20,000 x 0.5 VA"
    assert derivation.steps[-2].result == "55.5 A"


def test_delta_wye_puts_a_phase_load_between_two_lines() -> None:
    """source: Kirchhoff: 12 kVA from one secondary phase to neutral is 25 A in two lines at 480 V."""
    text = (
        HEAD
        + "transformer T1 { fed from UT\nsecondary 208Y/120 V }\n"
        + 'panelboard P { fed from T1\n1 equipment "E" 12 kVA, 120 V }\n'
    )
    load_ = node(loads_of(text), "UT")
    assert sorted(load_.phase_demand_a) == pytest.approx([0, 25, 25])
    assert sum(load_.phase_va) == pytest.approx(12_000)
    assert load_.design_a == pytest.approx(25)
    assert load_.demand_a == pytest.approx(12_000 / (1.7320508 * 480), rel=1e-4)


def test_largest_motor_counts_once_at_each_node() -> None:
    """source: NEC 430.24, Table 430.250: 65, 27 and 14 A at 480 V."""
    text = (
        HEAD
        + """panelboard A { fed from UT
    motor "One" 50 hp
    motor "Two" 20 hp }
panelboard B { fed from UT
    motor "Three" 10 hp }
"""
    )
    work = loads_of(text)
    assert node(work, "A").design_a == pytest.approx(65 + 27 + 0.25 * 65, abs=0.05)
    assert node(work, "B").design_a == pytest.approx(14 * 1.25, abs=0.05)
    assert node(work, "UT").design_a == pytest.approx(65 + 27 + 14 + 0.25 * 65, abs=0.05)


def test_nameplate_units_carry_their_own_quarter() -> None:
    """source: NEC 440.4(B): the minimum circuit ampacity contains the 25 % of the unit's largest motor."""
    work = loads_of(HEAD + 'panelboard A { fed from UT\nhvac "RTU" mca 41 A, mocp 60 A }\n')
    assert node(work, "A").design_a == pytest.approx(41, abs=0.05)
    assert not [line for line in node(work, "A").categories if line.category == "largest motor"]


def test_continuous_adds_for_sizing_only() -> None:
    """source: NEC 215.2(A), 215.3."""
    work = loads_of(HEAD + 'panelboard A { fed from UT\nequipment "Oven" 36 kW, 480 V 3-phase, continuous }\n')
    assert node(work, "A").demand_a == pytest.approx(43.3, abs=0.05)
    assert node(work, "A").design_a == pytest.approx(54.1, abs=0.05)
    assert node(work, "A").continuous_va == pytest.approx(36_000)


def test_unit_load_of_lighting_holds_the_quarter_since_2020() -> None:
    """source: NEC Table 220.42(A), 2020 and later; before, Table 220.12 of 2017 (office 3.5 VA/ft2) does not."""
    text = HEAD + 'panelboard A { fed from UT\nlighting "Office" 10_000 ft2 office }\n'
    now, before = loads_of(text), loads_of(text.replace("NEC 2023", "NEC 2017"))
    assert (node(now, "A").demand_va, node(now, "A").continuous_va) == (pytest.approx(13_000), 0)
    assert (node(before, "A").demand_va, node(before, "A").continuous_va) == (
        pytest.approx(35_000),
        pytest.approx(35_000),
    )


def test_hotel_and_warehouse_lighting() -> None:
    """source: NEC Table 220.45 (2023) and 220.42 (2017): first 20 kVA at 60 % (50 %), next at 50 % (40 %)."""
    text = HEAD + 'panelboard A { fed from UT\nlighting "Rooms" 30_000 ft2 hotel }\n'
    assert node(loads_of(text), "A").demand_va == pytest.approx(20_000 * 0.6 + 31_000 * 0.5)
    before = loads_of(text.replace("NEC 2023", "NEC 2017"))
    assert node(before, "A").demand_va == pytest.approx(20_000 * 0.5 + 40_000 * 0.4)


def test_measured_demand_replaces_what_exists_below() -> None:
    """source: NEC 220.87: 125 % of the recorded maximum, and the new load."""
    text = (
        HEAD
        + """existing switchboard MDP { fed from UT
    measured 412 A, 12 months, because "utility data"
    equipment "Old" 80 kVA, 480 V 3-phase
}
panelboard NEW { fed from MDP
    equipment "New" 10 kVA, 480 V 3-phase }
existing panelboard OLD { fed from MDP
    equipment "Older" 50 kVA, 480 V 3-phase
    new equipment "Newer" 5 kVA, 480 V 3-phase }
"""
    )
    work = loads_of(text)
    expected = 1.25 * 412 * 480 * 1.7320508 + 10_000 + 5_000
    assert node(work, "MDP").demand_va == pytest.approx(expected, rel=1e-6)
    assert node(work, "UT").demand_va == pytest.approx(expected, rel=1e-6)
    assert node(work, "OLD").demand_va == pytest.approx(55_000)


def test_engineers_factor_and_management_go_up_with_the_loads() -> None:
    text = (
        HEAD
        + """transformer T1 { fed from UT
    secondary 208Y/120 V }
panelboard EV { fed from T1
    ev-charger "Spaces" 7.2 kW, 208 V 1-phase x 12
    managed ev-charger to 160 A because "listed system"
}
panelboard W { fed from UT
    welder "Welders" 38 A, 480 V 3-phase x 4
    demand welder 70 % because "order book" }
"""
    )
    work = loads_of(text)
    limit = 160 * 208 * 1.7320508
    assert node(work, "EV").demand_va == pytest.approx(limit, rel=1e-6)
    assert node(work, "EV").connected_va == pytest.approx(12 * 7200)
    welders = 0.7 * 4 * 38 * 480 * 1.7320508
    assert node(work, "W").demand_va == pytest.approx(welders, rel=1e-6)
    assert node(work, "UT").demand_va == pytest.approx(limit + welders, rel=1e-6)
    assert "70 % by the engineer: order book" in [line.factor for line in node(work, "UT").categories]


def test_growth_stands_at_its_node_and_is_not_compounded() -> None:
    text = (
        HEAD
        + """defaults { growth load 20 %, poles 25 % }
panelboard A { fed from UT
    equipment "E" 83.138 kVA, 480 V 3-phase }
panelboard B { fed from A
    growth load 50 %
    equipment "E" 83.138 kVA, 480 V 3-phase }
"""
    )
    work = loads_of(text)
    assert node(work, "B").design_with_growth_a == pytest.approx(150, abs=0.1)
    assert node(work, "A").design_with_growth_a == pytest.approx(240, abs=0.1)
    assert node(work, "A").design_a == pytest.approx(200, abs=0.1)


def test_managed_loads_do_not_grow() -> None:
    """source: the language: growth never applies to managed categories."""
    text = (
        HEAD.replace("480Y/277 V", "208Y/120 V")
        + """panelboard EV { fed from UT
    growth load 20 %
    ev-charger "Spaces" 7.2 kW, 208 V 3-phase x 12
    managed ev-charger to 160 A because "listed system" }
"""
    )
    load_ = node(loads_of(text), "EV")
    assert load_.design_with_growth_a == pytest.approx(load_.design_a)


def test_future_loads_are_part_of_the_growth() -> None:
    text = (
        HEAD
        + """panelboard A { fed from UT
    growth load 10 %
    equipment "Now" 83.138 kVA, 480 V 3-phase
    future equipment "Later" 41.569 kVA, 480 V 3-phase }
"""
    )
    load_ = node(loads_of(text), "A")
    assert load_.connected_va == pytest.approx(83_138)
    assert load_.design_a == pytest.approx(100, abs=0.1)
    assert load_.design_with_growth_a == pytest.approx(150, abs=0.1)


def test_noncoincident_loads_on_two_panels() -> None:
    """source: NEC 220.60: only the larger at the node that feeds both; each in full at its own panel."""
    text = (
        HEAD
        + """panelboard A { fed from UT
    motor P-1 "Pump 1" 15 hp }
panelboard B { fed from UT
    motor P-2 "Pump 2" 15 hp }
noncoincident P-1 or P-2
"""
    )
    work = loads_of(text)
    one = 21 * 480 * 1.7320508
    assert node(work, "A").demand_va == pytest.approx(1.25 * one, rel=1e-5)
    assert node(work, "B").demand_va == pytest.approx(1.25 * one, rel=1e-5)
    assert node(work, "UT").demand_va == pytest.approx(1.25 * one, rel=1e-5)
    assert node(work, "UT").connected_va == pytest.approx(2 * one, rel=1e-5)


def test_cooling_below_heating_is_compared_at_125_percent() -> None:
    """source: NEC 220.60, 2020 and later: a motor load that is not the largest counts at 125 % in the comparison."""
    text = (
        HEAD
        + """panelboard A { fed from UT
    heating H-1 "Heat" 20 kW, 480 V 3-phase
    cooling C-1 "Cool" 18 kVA, 480 V 3-phase }
noncoincident H-1 or C-1
"""
    )
    assert category(node(loads_of(text), "A"), "cooling") == pytest.approx(18_000)
    before = loads_of(text.replace("NEC 2023", "NEC 2017"))
    assert category(node(before, "A"), "cooling") == 0
    assert category(node(before, "A"), "heating") == pytest.approx(20_000)


def test_unknown_load_makes_every_node_above_a_lower_bound() -> None:
    work = loads_of(HEAD + 'panelboard A { fed from UT\nequipment "Press"\nmotor "Fan" 5 hp }\n')
    assert not node(work, "A").complete
    assert not node(work, "UT").complete
    assert node(work, "A").demand_va > 0
    assert [finding.rule for finding in work.findings] == ["load-missing"]


def test_motor_above_the_table_is_not_known_and_between_rows_takes_the_next() -> None:
    """source: NEC Table 430.250 ends at 500 hp; 12 hp stands between 10 hp (14 A) and 15 hp (21 A)."""
    work = loads_of(HEAD + 'panelboard A { fed from UT\nmotor "Mill" 600 hp }\n')
    assert not node(work, "A").complete
    work = loads_of(HEAD + 'panelboard A { fed from UT\nmotor "Fan" 12 hp }\n')
    assert node(work, "A").design_a == pytest.approx(21 * 1.25, abs=0.05)


def test_two_cords() -> None:
    """Half on each cord, all on the one that is left, once at the common source."""
    text = """fedfrom 1
project "Server room" { code NEC 2023 }
utility UT-1 { voltage 208Y/120 V }
utility UT-2 { voltage 208Y/120 V }
switchboard A { fed from UT-1 }
switchboard B { fed from UT-2 }
panelboard PA { fed from A
    equipment RK-1 "Rack" 6 kVA, 208 V 1-phase, cord A }
panelboard PB { fed from B
    equipment RK-1, cord B }
interlock key, at most 2 of A.main, B.main, TIE
tie TIE between A and B, breaker 400 A, normally open
"""
    work = loads_of(text)
    assert node(work, "PA").connected_va == pytest.approx(3000)
    assert node(work, "PB").connected_va == pytest.approx(3000)
    assert node(work, "PB", "UT-1 lost").connected_va == pytest.approx(6000)
    assert "UT-1 lost" not in work.loads["PA"]
    assert node(work, "B", "Tie TIE closed, A main open").connected_va == pytest.approx(6000)


def test_paralleled_generators_share() -> None:
    text = (
        HEAD
        + """switchboard MSB { fed from UT }
generator G1 { rating 750 kW\nvoltage 480Y/277 V }
generator G2 { rating 750 kW\nvoltage 480Y/277 V }
switchboard EPS { fed from G1\nfed from G2\nparalleling }
transfer switch ATS { normal from MSB\nemergency from EPS }
panelboard E { fed from ATS
    equipment "E" 83.138 kVA, 480 V 3-phase }
"""
    )
    work = loads_of(text)
    assert node(work, "UT").demand_a == pytest.approx(100, abs=0.1)
    assert "Normal" not in work.loads["G1"]
    assert node(work, "EPS", "UT lost").demand_a == pytest.approx(100, abs=0.1)
    assert node(work, "G1", "UT lost").demand_a == pytest.approx(50, abs=0.1)
    assert node(work, "G2", "UT lost").demand_a == pytest.approx(50, abs=0.1)


def test_elevators() -> None:
    """source: NEC Table 620.14: two cars at 95 %."""
    work = loads_of(HEAD + 'panelboard A { fed from UT\nelevator "Cars" 25 hp x 2 }\n')
    assert category(node(work, "A"), "elevator") == pytest.approx(0.95 * 2 * 34 * 480 * 1.7320508, rel=1e-6)


def test_restaurant_kitchen() -> None:
    """source: NEC Table 220.56: six pieces and more at 65 %."""
    work = loads_of(HEAD + 'panelboard A { fed from UT\nkitchen "Ovens" 18 kW, 480 V 3-phase x 6 }\n')
    assert category(node(work, "A"), "kitchen") == pytest.approx(0.65 * 6 * 18_000)


@pytest.mark.parametrize(("edition", "expected"), [("NEC 2023", 7200), ("NEC 2020", 3300)])
def test_vehicle_charger_counts_7200_va_since_2023(edition: str, expected: float) -> None:
    """source: NEC 220.57 (new in 2023)."""
    text = HEAD.replace("480Y/277 V", "208Y/120 V").replace("NEC 2023", edition)
    work = loads_of(text + 'panelboard A { fed from UT\nev-charger "Car" 3.3 kW, 208 V 1-phase }\n')
    assert node(work, "A").demand_va == pytest.approx(expected)
    assert node(work, "A").continuous_va == pytest.approx(expected)


def test_school_method() -> None:
    """source: NEC Table 220.86: 3 VA/ft2 at 100 %, the next 17 at 75 %."""
    text = (
        HEAD
        + """panelboard A { fed from UT
    method optional school
    lighting "Rooms" 5_000 ft2 school
    heating "Heat" 42.5 kW, 480 V 3-phase }
"""
    )
    assert node(loads_of(text), "A").demand_va == pytest.approx(5_000 * (3 + 0.75 * 7))


def test_restaurant_method() -> None:
    """source: NEC Table 220.88, not all-electric: 200 kVA and 50 % of the excess to 325 kVA."""
    text = HEAD + 'panelboard A { fed from UT\nmethod optional restaurant\nkitchen "All" 300 kW, 480 V 3-phase }\n'
    assert node(loads_of(text), "A").demand_va == pytest.approx(250_000)


@pytest.mark.parametrize(
    ("method", "why"),
    [
        ("optional dwelling", "0 dwelling units are fed here"),
        ("optional multifamily", "0 dwelling units are fed here; the method needs 3"),
        ("optional school", "no electric heating or air conditioning is fed here"),
    ],
)
def test_optional_method_that_does_not_apply(method: str, why: str) -> None:
    work = loads_of(HEAD + f'panelboard A {{ fed from UT\nmethod {method}\nequipment "E" 9 kVA, 480 V 3-phase }}\n')
    assert [finding.rule for finding in work.findings] == ["dwelling-optional"]
    assert why in work.findings[0].message
    assert node(work, "A").demand_va == pytest.approx(9_000)


def test_length_of_the_circuits_of_a_dwelling() -> None:
    text = HEAD.replace("480Y/277 V", "120/240 V") + (
        "load center LC { fed from UT, 20 ft\ndwelling 900 ft2, small-appliance 2, laundry 1, circuits 45 ft }\n"
    )
    rows = [row for row in loads_of(text).circuits["LC"] if row.kind == "load"]
    assert [row.length_ft for row in rows] == [45.0] * 5


def test_occupancy_that_an_edition_has_no_unit_load_for_is_a_finding() -> None:
    """source: NEC Table 220.12 (2017) has no convention center; the tables of 2020 and 2023 have 1.4 VA/ft2."""
    text = HEAD + 'panelboard A { fed from UT\nlighting "Hall" 10_000 ft2 convention-center }\n'
    assert node(loads_of(text), "A").demand_va == pytest.approx(14_000)
    work = loads_of(text.replace("NEC 2023", "NEC 2017"))
    assert not node(work, "A").complete
    assert [finding.rule for finding in work.findings] == ["load-missing"]
    assert "an occupancy that NEC 2017 has a unit load for" in work.findings[0].message


def test_growth_fills_the_lighter_phases_first() -> None:
    """A quarter of growth on 30 kVA, all on one of three phases: the phase as it is covers 37.5 kVA spread evenly."""
    text = HEAD + 'panelboard A { fed from UT\ngrowth load 25 %\n1 equipment "E" 30 kVA, 277 V }\n'
    one = node(loads_of(text), "A")
    assert one.design_a == pytest.approx(30_000 / 277, abs=0.1)
    assert one.design_with_growth_a == pytest.approx(one.design_a)


# --- properties ----------------------------------------------------------------------------------------------------

LOADS = st.lists(
    st.tuples(
        st.sampled_from(["equipment", "receptacles", "lighting"]), st.integers(1, 90), st.sampled_from([1, 2, 3])
    ),
    max_size=5,
)
TREES = st.lists(st.tuples(st.integers(0, 30), LOADS), min_size=1, max_size=12)


def tree(branches: list[tuple[int, list[tuple[str, int, int]]]]) -> list[Item]:
    """Panels on a 208Y/120 V service; each hangs on one before it."""
    items = [item("utility", "UT", voltage="208Y/120 V")]
    connections = {1: (120, 1), 2: (208, 1), 3: (208, 3)}
    for number, (parent, loads) in enumerate(branches):
        above = items[parent % len(items)].tag
        made = []
        for kind, tenths, poles in loads:
            volts, phases = connections[poles]
            made.append(load(kind, f"{tenths / 10} kVA", volts=volts, phases=phases))
        items.append(item("panelboard", f"P{number}", above, loads=made))
    return items


@settings(max_examples=30, deadline=None)
@given(TREES)
def test_connected_load_is_conserved_up_the_tree(branches: list[tuple[int, list[tuple[str, int, int]]]]) -> None:
    items = tree(branches)
    work = loads_of_model(model(*items))
    total = sum(each.amount.quantity or 0 for entry in items for each in entry.loads)
    top = node(work, "UT")
    assert top.connected_va == pytest.approx(total)
    assert sum(top.phase_va) == pytest.approx(total)
    assert sum(line.connected_va for line in top.categories) == pytest.approx(total)
    for tag in work.loads:
        one = node(work, tag)
        by_category = [sum(line.phase_va[phase] for line in one.categories) for phase in range(3)]
        assert by_category == pytest.approx(list(one.phase_va))
        rows = [row for row in work.circuits.get(tag, ()) if row.kind in ("load", "feeder")]
        if rows:
            assert [sum(row.va_by_phase[phase] for row in rows) for phase in range(3)] == pytest.approx(by_category)
    assert top.demand_va <= total + 1e-6
    assert top.design_a >= top.demand_a - 1e-9


@settings(max_examples=25, deadline=None)
@given(TREES, st.randoms(use_true_random=False))
def test_order_of_statements_never_matters(
    branches: list[tuple[int, list[tuple[str, int, int]]]], random: object
) -> None:
    items = tree(branches)
    shuffled = list(items)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    first, second = loads_of_model(model(*items)), loads_of_model(model(*shuffled))
    for tag in (entry.tag for entry in items):
        one, other = node(first, tag), node(second, tag)
        assert one.demand_va == pytest.approx(other.demand_va)
        assert sorted(line.category for line in one.categories) == sorted(line.category for line in other.categories)
