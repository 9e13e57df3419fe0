"""Positions and phases: odd left, even right, balance, pins, reserves, and what moves nothing."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.support.models import item, load, model
from tests.support.texts import compiled, loads_of, loads_of_model

from fedfrom.model.items import Reserve
from fedfrom.passes.work import Work
from fedfrom.results.types import CircuitResult
from fedfrom.source import Span


def panel(inside: str, system: str = "208Y/120 V", kind: str = "panelboard") -> str:
    return f"""fedfrom 1
project "Panel" {{ code NEC 2023 }}
utility UT {{ voltage {system} }}
{kind} LP1 {{
    fed from UT, 20 ft
{inside}
}}
"""


def rows(work: Work, kind: str = "load") -> dict[str, CircuitResult]:
    return {row.key: row for row in work.circuits["LP1"] if row.kind == kind}


def placed(work: Work) -> list[tuple[str, tuple[int, ...], str]]:
    return [(row.name, row.positions, row.phases) for row in work.circuits["LP1"] if row.kind == "load"]


def test_phases_by_rows_of_two() -> None:
    """source: common practice of panels, A-B-C by row pairs (1,2 = A; 3,4 = B; 5,6 = C)."""
    work = loads_of(
        panel(
            """    1 equipment "One" 1 kVA, 120 V
    4 equipment "Two" 1 kVA, 120 V
    5,7 equipment "Three" 2 kVA, 208 V
    8,10,12 equipment "Four" 3 kVA, 208 V 3-phase
"""
        )
    )
    assert placed(work) == [
        ("One", (1,), "A"),
        ("Two", (4,), "B"),
        ("Three", (5, 7), "CA"),
        ("Four", (8, 10, 12), "ABC"),
    ]
    assert all(row.pinned for row in rows(work).values())
    assert rows(work)["LP1.5"].va_by_phase == pytest.approx((1000, 0, 1000))


def test_single_phase_panel() -> None:
    work = loads_of(
        panel('    1 equipment "One" 1 kVA, 120 V\n    3 equipment "Two" 1 kVA, 120 V\n', "120/240 V", "load center")
    )
    assert placed(work) == [("One", (1,), "A"), ("Two", (3,), "B")]


def test_open_circuits_go_to_the_lightest_phase_in_the_order_of_the_text() -> None:
    work = loads_of(
        panel(
            """    equipment "Heavy" 1.8 kVA, 120 V
    equipment "Light" 0.6 kVA, 120 V
    equipment "Middle" 1 kVA, 120 V
    equipment "Next" 0.5 kVA, 120 V
"""
        )
    )
    assert placed(work) == [("Heavy", (1,), "A"), ("Light", (3,), "B"), ("Next", (4,), "B"), ("Middle", (5,), "C")]


def test_pinned_circuits_stand_and_open_ones_go_around_them() -> None:
    work = loads_of(
        panel(
            """    equipment "Open" 1 kVA, 120 V
    1,3,5 equipment "Pinned" 3 kVA, 208 V 3-phase
"""
        )
    )
    assert placed(work) == [("Pinned", (1, 3, 5), "ABC"), ("Open", (2,), "A")]


def test_general_lighting_is_divided_over_circuits() -> None:
    """source: NEC 210.11(A); Table 220.42(A) holds the 125 % since 2020, so 20 A x 277 V a circuit."""
    work = loads_of(panel('    lighting "Level 2" 11_500 ft2 office\n', "480Y/277 V"))
    lighting = list(rows(work).values())
    assert len(lighting) == 3  # 11 500 x 1.3 = 14 950 VA over 5 540 VA
    assert sum(row.connected_va or 0 for row in lighting) == pytest.approx(14950)
    assert [row.detail for row in sorted(lighting, key=lambda row: row.detail)] == ["1 of 3", "2 of 3", "3 of 3"]


def test_receptacles_are_divided_in_whole_outlets() -> None:
    """source: NEC 220.14(I): 180 VA; 13 outlets on 20 A, 10 on 15 A."""
    work = loads_of(panel('    receptacles "Desks" 60 outlets\n'))
    assert sorted(row.connected_va or 0 for row in rows(work).values()) == [12 * 180] * 5
    work = loads_of(panel('    receptacles "Desks" 60 outlets, breaker 15 A\n'))
    assert len(rows(work)) == 6


def test_each_position_of_a_general_load_to_neutral_is_a_circuit() -> None:
    work = loads_of(panel('    5,1,9,4 receptacles "Hall" 30 outlets, 120 V, 60 ft\n'))
    assert {row.key: row.detail for row in rows(work).values()} == {
        "LP1.5": "8 outlets, 1 of 4",
        "LP1.1": "8 outlets, 2 of 4",
        "LP1.9": "7 outlets, 3 of 4",
        "LP1.4": "7 outlets, 4 of 4",
    }
    across = loads_of(panel('    1,3 receptacles "Bench" 2 outlets, 208 V, 60 ft\n'))
    assert [(row.key, row.poles) for row in rows(across).values()] == [("LP1.1", 2)]


def test_pinned_lighting_stays_on_its_circuit_and_is_told() -> None:
    outcome = compiled(panel('    1 lighting "Sales floor" 1_900 ft2 retail, 60 ft\n'))
    assert [finding.subject for finding in outcome.of_rule("general-circuit")] == ["LP1.1"]


def test_x_n_and_multiwire() -> None:
    work = loads_of(
        panel(
            """    equipment "Kiosk" 1 kVA, 120 V x 3
    receptacles "Desks" 18 outlets, multiwire
"""
        )
    )
    assert [name for name, _, _ in placed(work)].count("Kiosk") == 3
    desks = next(row for row in rows(work).values() if row.name == "Desks")
    assert (desks.poles, len(desks.positions), desks.multiwire) == (3, 3, True)
    assert desks.va_by_phase == pytest.approx((1080, 1080, 1080))
    assert desks.load_a == pytest.approx(9)


def test_circuit_with_several_loads() -> None:
    work = loads_of(panel('    9 circuit "Rooms" {\n        receptacles 6 outlets\n        lighting 400 VA\n    }\n'))
    row = rows(work)["LP1.9"]
    assert row.connected_va == pytest.approx(6 * 180 + 400)
    assert row.category == "receptacles, lighting"
    assert row.continuous


def test_spares_spaces_and_growth_choose_the_size() -> None:
    """source: numbers of positions as panels are bought: common practice, no source."""
    work = loads_of(
        panel(
            """    equipment "One" 1 kVA, 120 V
    spare 20 A 1-pole x 4
    space 6
"""
        )
    )
    kinds = [row.kind for row in work.circuits["LP1"]]
    assert (len(kinds), kinds.count("spare"), kinds.count("space")) == (12, 4, 7)
    text = panel('    growth poles 25 %\n    equipment "Fan" 1 kVA, 120 V x 16\n')
    assert sum(len(row.positions) for row in loads_of(text).circuits["LP1"]) == 20


def test_written_number_of_positions() -> None:
    outcome = compiled(panel('    positions 12\n    equipment "Fan" 1 kVA, 120 V, 10 ft x 13\n'))
    assert len(outcome.of_rule("position-conflict")) == 1
    assert "finds no place" in outcome.of_rule("position-conflict")[0].message


@pytest.mark.parametrize(
    ("inside", "message"),
    [
        ('    1 equipment "A" 1 kVA, 120 V\n    1 equipment "B" 1 kVA, 120 V\n', "position 1 of LP1 is taken twice"),
        ('    1,2 equipment "A" 2 kVA, 208 V 1-phase\n', "1,2 are not neighbours on one side"),
        ('    positions 12\n    14 equipment "A" 1 kVA, 120 V\n', "Position 14 is past the 12 positions of LP1"),
    ],
)
def test_positions_that_do_not_work(inside: str, message: str) -> None:
    found = [finding.message for finding in compiled(panel(inside)).findings if "position" in finding.rule]
    assert message in found


def test_demolished_circuit_gives_its_position_to_a_new_one() -> None:
    work = loads_of(
        panel(
            """    demolish 12 equipment "Kiln" 9 A, 120 V, breaker 20 A
    new 12 receptacles "Carts" 6 outlets, existing breaker 20 A
    demolish 14 equipment "Old fan" 9 A, 120 V, breaker 20 A
"""
        )
    )
    assert [row.name for row in work.circuits["LP1"] if row.kind == "load"] == ["Carts", "Old fan"]
    assert rows(work)["LP1.12"].notes == ("replaces Kiln, removed",)
    assert work.loads["LP1"]["Normal"].connected_va == pytest.approx(1080)


def test_feeders_take_positions_from_below() -> None:
    text = panel('    equipment "Fan" 1 kVA, 120 V\n') + "panelboard LP2 { fed from LP1, 10 ft }\n"
    work = loads_of(text)
    feeder = next(row for row in work.circuits["LP1"] if row.kind == "feeder")
    assert (feeder.positions, feeder.feeder_id) == ((8, 10, 12), "LP2")
    pinned = text.replace("LP1, 10 ft", "LP1, 10 ft, position 2,4,6")
    feeder = next(row for row in loads_of(pinned).circuits["LP1"] if row.kind == "feeder")
    assert (feeder.positions, feeder.pinned) == ((2, 4, 6), True)


def test_line_ups_go_by_order() -> None:
    text = panel('    motor "Fan" 5 hp\n    motor "Pump" 5 hp\n', "480Y/277 V", "motor control center")
    work = loads_of(text)
    assert [(row.key, row.positions, row.phases) for row in work.circuits["LP1"]] == [
        ("LP1.1", (), "ABC"),
        ("LP1.2", (), "ABC"),
    ]


def test_no_lighting_on_the_high_leg() -> None:
    """source: NEC 408.3(E): the high leg is B; no line-to-neutral load goes there."""
    work = loads_of(panel('    equipment "Fan" 1 kVA, 120 V x 6\n', "240/120 V high-leg"))
    assert {phases for _, _, phases in placed(work)} == {"A", "C"}


def test_load_added_after_the_others_moves_none_of_them() -> None:
    first = panel('    equipment "Fan" 1.1 kVA, 120 V x 5\n    motor "Pump" 5 hp\n    lighting "Hall" 3 kVA\n')
    more = first.replace('"Hall" 3 kVA\n', '"Hall" 3 kVA\n    motor "New" 3 hp\n    equipment "Newer" 9 A, 120 V x 9\n')
    before = {(row.name, row.detail): row.positions for row in rows(loads_of(first)).values()}
    after = {(row.name, row.detail): row.positions for row in rows(loads_of(more)).values()}
    assert before == {key: after[key] for key in before}


SIZES = st.lists(st.tuples(st.sampled_from([1, 2, 3]), st.integers(1, 40)), min_size=1, max_size=24)


def loads_from(sizes: list[tuple[int, int]]) -> list[object]:
    phases = {1: (1, 120), 2: (1, 208), 3: (3, 208)}
    made = []
    for number, (poles, tenths) in enumerate(sizes):
        phase, volts = phases[poles]
        made.append(load("equipment", f"{tenths / 10} kVA", f"L{number}", volts=volts, phases=phase))
    return made


@settings(max_examples=40, deadline=None)
@given(SIZES, SIZES)
def test_stability_property(sizes: list[tuple[int, int]], more: list[tuple[int, int]]) -> None:
    """What is added at the end moves nothing before it, whatever the loads."""
    supply = item("utility", "UT", voltage="208Y/120 V")
    short = loads_of_model(model(supply, item("panelboard", "LP1", "UT", loads=loads_from(sizes))))  # type: ignore[arg-type]
    both = loads_of_model(model(supply, item("panelboard", "LP1", "UT", loads=loads_from(sizes + more))))  # type: ignore[arg-type]
    before = {row.name: row.positions for row in rows(short).values()}
    after = {row.name: row.positions for row in rows(both).values()}
    assert before == {name: after[name] for name in before}


@settings(max_examples=40, deadline=None)
@given(SIZES)
def test_no_two_circuits_on_one_position(sizes: list[tuple[int, int]]) -> None:
    supply = item("utility", "UT", voltage="208Y/120 V")
    place = Span("test.fed", 0, 1)
    reserves = [Reserve("spare", 20.0, 1, 3, (), place)]
    work = loads_of_model(model(supply, item("panelboard", "LP1", "UT", loads=loads_from(sizes), reserves=reserves)))  # type: ignore[arg-type]
    used = [position for row in work.circuits["LP1"] for position in row.positions]
    assert sorted(used) == list(range(1, len(used) + 1))
    total = [sum(row.va_by_phase[phase] for row in work.circuits["LP1"]) for phase in range(3)]
    assert work.loads["LP1"]["Normal"].phase_va == pytest.approx(total)


def test_single_phase_panel_on_a_high_leg_delta_hangs_beside_the_neutral() -> None:
    """source: a 240/120 V delta has its neutral between A and C: 120/240 V is there and nowhere else."""
    text = panel("", "240/120 V high-leg") + "load center LC { fed from LP1, 10 ft\n    voltage 120/240 V }\n"
    feeder = next(row for row in loads_of(text).circuits["LP1"] if row.kind == "feeder")
    assert set(feeder.phases) == {"A", "C"}
    board = text.replace("panelboard LP1", "switchboard LP1")
    assert set(loads_of(board).edge_phases["LC"]) == {"A", "C"}


def test_phases_written_on_a_panel() -> None:
    text = panel("") + "load center LC { fed from LP1, 10 ft\n    voltage 120/208 V\n    phases B C }\n"
    feeder = next(row for row in loads_of(text).circuits["LP1"] if row.kind == "feeder")
    assert set(feeder.phases) == {"B", "C"}


def test_rectifier_draws_from_all_phases() -> None:
    text = (
        panel("", "480Y/277 V")
        + """rectifier R1 { fed from LP1, 20 ft
    rating 10 kW
    secondary 125 V DC }
panelboard DC1 { fed from R1, 10 ft
    equipment "Relay" 3 kW
    motor "Pump" 1 hp }
"""
    )
    work = loads_of(text)
    direct = 3000 + 9.5 * 125  # Table 430.247: 1 hp at 120 V takes 9.5 A
    assert work.loads["R1"]["Normal"].connected_va == pytest.approx(direct)
    assert work.loads["LP1"]["Normal"].phase_va == pytest.approx([direct / 3] * 3)
