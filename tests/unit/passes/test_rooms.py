"""Rooms: working spaces by voltage and condition, fit, entrances, doors, and what is said where the text is silent."""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.support.gear_programs import UGLY
from tests.support.texts import computed

from fedfrom.passes.room_layout import Block, RoomGrid, in_order
from fedfrom.results.assembly import RoomItem, RoomResult

PROGRAM = """fedfrom 1
project "Test" {{ code NEC 2023 }}
utility UT {{ voltage {volts}
 fault 30 kA at service point, X/R 5 }}
room E1 "Room" {{ {room} }}
switchboard B "Board" {{ fed from UT, 20 ft
 main breaker {amperes} A, LSIG, arc reduction maintenance switch
 metering utility
 spare 400 A 3-pole x 4
 place E1 }}
"""
USUAL = "level 1, size 30 ft x 14 ft, height 10 ft\n facing concrete\n door 4 ft, swings out, panic hardware"


def room(text: str = USUAL, volts: str = "480Y/277 V", amperes: int = 1600) -> RoomResult:
    return computed(PROGRAM.format(volts=volts, room=text, amperes=amperes)).results.rooms["E1"]


@cache
def ugly() -> dict[str, RoomResult]:
    return dict(computed(UGLY).results.rooms)


@pytest.mark.parametrize(
    ("volts", "facing", "feet"),
    [
        # source: NEC 2023, Table 110.26(A)(1): 0 to 150 V to ground 3 ft throughout; 151 to 600 V 3, 3-1/2 and 4 ft
        ("208Y/120 V", "open", 3.0),
        ("208Y/120 V", "concrete", 3.0),
        ("208Y/120 V", "live", 3.0),
        ("480Y/277 V", "insulated", 3.0),
        ("480Y/277 V", "concrete", 3.5),
        ("480Y/277 V", "live", 4.0),
    ],
)
def test_depth_of_the_working_space(volts: str, facing: str, feet: float) -> None:
    item = room(USUAL.replace("concrete", facing), volts).items[0]
    assert item.work_depth_ft == feet


def test_a_board_that_fits() -> None:
    found = room()
    assert found.fits is True
    assert found.needs == ()
    assert found.items[0].wall == "north"
    assert found.panic_hardware_needed  # source: NEC 2023, 110.26(C)(3): 800 A or more


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (USUAL.replace("30 ft x 14 ft", "5 ft x 5 ft"), "the longest wall is 5 ft"),
        (USUAL.replace("30 ft x 14 ft", "30 ft x 6 ft"), "with its working space needs"),
        (USUAL.replace("height 10 ft", "height 7 ft"), "the room is 7 ft high"),
    ],
)
def test_what_surely_does_not_fit(text: str, says: str) -> None:
    found = room(text)
    assert found.fits is False
    assert any(says in line for line in found.misfits), found.misfits


@pytest.mark.parametrize(
    ("text", "needs"),
    [
        ("level 1", "`size` in room E1"),
        (USUAL.replace(", height 10 ft", ""), "`height` in room E1"),
        ("level 1, size 30 ft x 14 ft, height 10 ft\n facing concrete", "`door` in room E1"),
    ],
)
def test_a_missing_fact_is_not_a_pass(text: str, needs: str) -> None:
    found = room(text)
    assert found.fits is None
    assert needs in found.needs


def test_facing_left_out_takes_the_deepest_and_says_so() -> None:
    found = room(USUAL.replace("facing concrete\n ", ""))
    assert found.items[0].condition is None
    assert found.items[0].work_depth_ft == 4.0
    assert any("`facing` is not stated" in line for line in found.assumed)


@pytest.mark.parametrize(("width", "entrances"), [("10 ft", 2), ("14 ft", 1)])
def test_two_entrances_unless_the_depth_is_double(width: str, entrances: int) -> None:
    """source: NEC 2023, 110.26(C)(2): 1200 A and over 6 ft wide; (b): one will do at twice the depth (2 x 3-1/2 ft)."""
    found = room(USUAL.replace("14 ft", width))
    assert (found.items[0].width_in or 0) > 72
    assert found.entrances_needed == entrances


def test_a_narrow_board_needs_one_entrance() -> None:
    found = room(USUAL.replace("14 ft", "10 ft"), amperes=800)
    assert (found.items[0].width_in or 0) <= 72
    assert found.entrances_needed == 1


def test_joined_boards_stand_together_in_their_order() -> None:
    first, second = (item for item in ugly()["E001"].items if item.tag.startswith("MSB"))
    assert first.wall == second.wall == "north"
    assert first.right_ft == pytest.approx(second.left_ft)
    assert first.rear_ft == first.work_depth_ft  # access front and rear: the space behind is a working space too


def test_gear_across_a_narrow_aisle_is_condition_3() -> None:
    items = ugly()["E002"].items
    assert {item.condition for item in items} == {3}
    assert {item.wall for item in items} == {"north", "south"}


def test_doors_stand_in_the_walls_that_the_text_names() -> None:
    assert [door.wall for door in ugly()["E001"].doors] == ["west", "east"]
    assert all(door.pinned for door in ugly()["E001"].doors)


def rects(items: tuple[RoomItem, ...]) -> list[tuple[str, tuple[float, float, float, float]]]:
    found = []
    for item in items:
        if item.left_ft is not None:
            assert item.top_ft is not None
            assert item.right_ft is not None
            assert item.bottom_ft is not None
            found.append((item.tag, (item.left_ft, item.top_ft, item.right_ft, item.bottom_ft)))
    return found


def overlap(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    gap = 1e-5
    return (one[0] < other[2] - gap and other[0] < one[2] - gap
            and one[1] < other[3] - gap and other[1] < one[3] - gap)  # fmt: skip


@pytest.mark.parametrize("tag", ["E001", "E002", "E003"])
def test_nothing_stands_on_anything(tag: str) -> None:
    found = ugly()[tag]
    places = rects(found.items)
    assert len(places) == len(found.items)
    for index, (name, one) in enumerate(places):
        for other_name, other in places[index + 1 :]:
            assert not overlap(one, other), (name, other_name)
        for item in found.items:
            if item.work is not None and item.tag != name:
                assert not overlap(one, item.work), (name, item.tag)


@settings(max_examples=60, deadline=None)
@given(
    st.tuples(st.floats(6, 60), st.floats(6, 40)),
    st.lists(
        st.tuples(st.floats(1, 15), st.floats(0.3, 5), st.sampled_from([0.0, 3.0, 3.5]), st.sampled_from([0.0, 3.0]),
                  st.sampled_from(["", "north", "south", "west", "east", "center"])),
        max_size=8,
    ),
)  # fmt: skip
def test_whatever_is_placed_is_inside_and_apart(
    size: tuple[float, float], wanted: list[tuple[float, float, float, float, str]]
) -> None:
    grid = RoomGrid(*size)
    blocks = [
        Block(f"B{n}", width, depth, work, 4.0 if work else 0.0, 2.5, rear, wall)
        for n, (width, depth, work, rear, wall) in enumerate(wanted)
    ]
    placed = [found for block in in_order(blocks) if (found := grid.place(block)) is not None]
    for index, one in enumerate(placed):
        spaces = [rect for rect in (one.footprint, one.work, one.rear) if rect is not None]
        for rect in spaces:
            assert rect[0] >= -1e-5
            assert rect[1] >= -1e-5
            assert rect[2] <= size[0] + 1e-5
            assert rect[3] <= size[1] + 1e-5
        for other in placed[:index] + placed[index + 1 :]:
            assert not any(overlap(rect, other.footprint) for rect in spaces)
