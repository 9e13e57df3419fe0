"""What gear is built of: sections in order, devices from the top, space used, shipping, pads, interiors.

Sizes: common practice, no source (planning figures of tables/practice/gear_dimensions.csv); the tests check how they
are put together, by hand, and that a project's own figures take their place.
"""

from __future__ import annotations

from functools import cache

import pytest
from tests.support.gear_programs import UGLY
from tests.support.texts import Outcome, compiled, computed

from fedfrom.passes.line_up_devices import Wanted, stacked, used_height
from fedfrom.results.assembly import PLANNING
from fedfrom.results.types import GearResult

SERVICE = """fedfrom 1
project "Test" { code NEC 2023 }
utility UT { voltage 480Y/277 V
 fault 30 kA at service point, X/R 5 }
"""
METERS = """fedfrom 1
project "Test" { code NEC 2023 }
utility UT { voltage 120/240 V
 fault 10 kA at service point, X/R 3 }
meter center MC "Meters" { fed from UT, 20 ft
 main breaker 600 A
 place outdoor "Wall" }
""" + "".join(
    f'load center F-{n} "Flat {n}" {{ fed from MC, 40 ft, meter utility, breaker 125 A\n main lugs\n'
    f' place indoor "Flat {n}"\n appliance "Oven" 3 kW\n }}\n'
    for n in range(1, 8)
)


@cache
def ugly() -> Outcome:
    return computed(UGLY)


def gear(tag: str) -> GearResult:
    return ugly().results.gear[tag]


def board(lines: str, kind: str = "switchboard") -> GearResult:
    text = f'{SERVICE}{kind} B "Board" {{\n fed from UT, 20 ft\n place indoor "Room"\n {lines}\n}}\n'
    return computed(text).results.gear["B"]


def kinds(found: GearResult) -> list[str]:
    return [section.kind for section in found.sections]


def test_sections_from_the_left_and_the_mirror_image_of_a_joined_board() -> None:
    """Mains at the ends, tie in the middle (common practice, no source)."""
    assert kinds(gear("MSB-A")) == ["pull", "main", "distribution", "distribution", "distribution", "tie"]
    assert kinds(gear("MSB-B")) == ["distribution", "distribution", "main", "pull"]
    built = gear("MSB-A").assembly
    assert built is not None
    assert built.joined == "MSB-B"


def test_utility_metering_stands_before_the_main() -> None:
    found = board("main breaker 1600 A, LSIG, arc reduction maintenance switch\n metering utility")
    assert kinds(found)[:2] == ["utility metering", "main"]


def test_a_small_main_is_group_mounted_with_the_branches() -> None:
    found = board("main breaker 800 A, LSI\n spare 225 A 3-pole x 2")
    assert kinds(found) == ["distribution"]
    first = found.sections[0].devices[0]
    assert (first.role, first.mounting) == ("main", "group")


def test_large_and_drawn_out_devices_are_not_group_mounted() -> None:
    found = board("main breaker 2000 A, LSIG, drawout, arc reduction maintenance switch\n spare 1600 A 3-pole x 1\n"
                  " spare 400 A 3-pole x 1")  # fmt: skip
    devices = {device.key: device.mounting for section in found.sections for device in section.devices}
    assert devices["B.main"] == "drawout"
    assert devices["B.1"] == "individual"
    assert devices["B.2"] == "group"


def test_devices_individual_moves_every_device_to_compartments() -> None:
    found = board("main breaker 800 A, LSI\n devices individual\n spare 225 A 3-pole x 4")
    mountings = {device.mounting for section in found.sections for device in section.devices}
    assert mountings == {"individual"}
    # four compartments of 13.5 in fill the 54 in of one section
    assert found.sections[1].used_in == pytest.approx(54.0)


def test_every_device_once_and_inside_its_section() -> None:
    for found in ugly().results.gear.values():
        keys = [device.key for section in found.sections for device in section.devices if device.key]
        assert len(keys) == len(set(keys)), found.tag
        for section in found.sections:
            for device in section.devices:
                assert device.top_in + device.height_in <= (section.usable_in or 0.0) + 1e-6
            assert section.used_in == pytest.approx(used_height(section.devices)) or not section.devices


def test_no_two_devices_of_a_section_share_a_place() -> None:
    for found in ugly().results.gear.values():
        for section in found.sections:
            taken: list[tuple[float, float, str]] = []
            for device in (each for each in section.devices if each.height_in):
                bottom = device.top_in + device.height_in
                for top, low, side in taken:
                    apart = device.top_in >= low - 1e-6 or bottom <= top + 1e-6
                    assert apart or (side and device.side and side != device.side), device.key
                taken.append((device.top_in, bottom, device.side))


def test_two_narrow_devices_stand_side_by_side() -> None:
    one = Wanted("A.1", "load", "", "group", 100, 100, 4.5, 2)
    placed = stacked([one, one, one], 54.0)[0]
    assert [(each.top_in, each.side) for each in placed] == [(0.0, "left"), (0.0, "right"), (4.5, "left")]


def test_a_full_section_begins_another() -> None:
    one = Wanted("A.1", "load", "", "group", 400, 400, 18.0)
    assert [len(section) for section in stacked([one] * 7, 54.0)] == [3, 3, 1]
    assert stacked([Wanted("A.1", "load", "", "individual", 4000, 4000, 90.0)], 54.0)[0][0].top_in == 0.0


def test_section_bus_carries_its_devices_and_never_more_than_the_through_bus_needs() -> None:
    found = board("main breaker 1200 A, LSIG, arc reduction maintenance switch\n spare 600 A 3-pole x 4")
    section = next(section for section in found.sections if section.kind == "distribution")
    assert section.through_bus_a == 1200
    assert section.bus_a == 1200  # 2400 A of devices behind a bus of 1200 A


def test_widths_and_weights_add_up_and_shipping_pieces_are_short_enough() -> None:
    for tag in ("MSB-A", "MSB-B", "MCC-1"):
        found = gear(tag)
        built = found.assembly
        assert built is not None
        assert built.width_in == pytest.approx(sum(section.width_in or 0 for section in found.sections))
        assert built.weight_lb == pytest.approx(sum(section.weight_lb or 0 for section in found.sections))
        assert built.basis == PLANNING
        assert [number for piece in built.shipping for number in piece] == [each.number for each in found.sections]
        for piece in built.shipping:
            long = sum(found.sections[number - 1].width_in or 0 for number in piece)
            assert long <= 96 or len(piece) == 1
        assert built.pad == pytest.approx((built.width_in + 8, (built.depth_in or 0) + 8, 4))


def test_motor_control_center_has_its_units_in_vertical_sections() -> None:
    found = gear("MCC-1")
    assert set(kinds(found)) == {"motor control"}
    heights = {device.key: device.height_in for section in found.sections for device in section.devices}
    # 100 hp at 460 V takes 124 A (NEC Table 430.250): above the 90 A of a size 3 starter, within the 135 A of size 4
    assert heights["MCC-1.1"] == 36
    # 15 hp takes 21 A: within the 45 A of size 2
    assert heights["MCC-1.4"] == 12
    assert all((section.used_in or 0) <= 72 for section in found.sections)


def test_meter_center_has_a_main_section_and_stacks() -> None:
    found = computed(METERS).results.gear["MC"]
    assert kinds(found) == ["main", "meter stack", "meter stack"]
    assert [len(section.devices) for section in found.sections[1:]] == [4, 3]  # 16 in each in 64 in
    assert all(device.role == "metering" for section in found.sections[1:] for device in section.devices)


def test_two_interiors_with_their_positions() -> None:
    found = gear("LP-1")
    built = found.assembly
    assert built is not None
    assert sum(built.interiors) == found.positions_total
    assert built.mains == "main breaker"
    assert built.feed_through == ("LP-2",)
    assert [section.kind for section in found.sections] == ["panel interior", "panel interior"]
    assert {key for section in found.sections for key in section.circuit_keys} == {
        row.key
        for row in ugly().results.circuits["LP-1"]
        if row.kind != "tap"  # lugs take no position
    }


def test_a_panel_without_sections_is_one_box() -> None:
    found = board('main breaker 225 A\n 1 lighting "Hall" 2 kVA, 277 V, 20 ft', "panelboard")
    assert found.sections == ()
    assert found.assembly is not None
    assert found.assembly.interiors == (found.positions_total,)
    # base of 26 in at 225 A and 1 in for each row of two positions
    assert found.assembly.height_in == 26 + found.positions_total / 2


def test_fewer_sections_written_than_needed_is_said() -> None:
    found = board("main breaker 1200 A, LSIG, arc reduction maintenance switch\n sections 1\n spare 600 A 3-pole x 9")
    assert found.assembly is not None
    assert any("1 are written" in note for note in found.assembly.notes)


def test_own_dimensions_take_the_place_of_ours() -> None:
    text = SERVICE.replace("code NEC 2023", 'code NEC 2023\n dimensions "our-gear.csv"')
    text += (
        'switchboard B "Board" { fed from UT, 20 ft\n main breaker 1600 A, LSIG, arc reduction maintenance switch }\n'
    )
    rows = "kind,part,up_to,width_in,depth_in,height_in\n"
    rows += "switchboard,main,4000,41,52,91.5\nswitchboard,main,1000,33,44,91\n"
    outcome = compiled(text, {"our-gear.csv": rows})
    assert not outcome.of_rule("own-table")
    found = outcome.results.gear["B"]
    assert (found.sections[0].width_in, found.sections[0].depth_in) == (41, 52)
    assert found.assembly is not None
    assert found.assembly.basis == "dimensions from our-gear.csv, the rest for planning"
    assert found.assembly.weight_lb is None  # the own rows state none: not known, and not ours either


def test_a_board_behind_a_busway_has_a_transition_section() -> None:
    text = f"""{SERVICE}switchboard M {{ fed from UT, 20 ft
 main breaker 3000 A, LSIG, arc reduction maintenance switch }}
busway BW {{ fed from M, 10 ft, breaker 1600 A, LSIG, arc reduction maintenance switch
 rating 1600 A
 length 60 ft }}
switchboard B "Board" {{ fed from BW at 55 ft
 main lugs
 bus 1600 A
 spare 400 A 3-pole x 2 }}
"""
    assert kinds(computed(text).results.gear["B"])[0] == "transition"


def test_many_incoming_sets_need_a_pull_section_unless_the_metering_section_takes_them() -> None:
    """More than six sets (common practice, no source)."""
    lines = "main breaker 3000 A, LSIG, arc reduction maintenance switch"
    feed = "fed from UT, 20 ft, sets 8, phase 500 kcmil"
    text = f'{SERVICE}switchboard B "Board" {{\n {feed}\n {lines}\n}}\n'
    assert kinds(computed(text).results.gear["B"])[0] == "pull"
    few = text.replace("sets 8", "sets 6").replace("500 kcmil", "1000 kcmil")
    assert kinds(computed(few).results.gear["B"])[0] == "main"
    metered = text.replace(lines, f"{lines}\n metering utility")
    assert kinds(computed(metered).results.gear["B"])[0] == "utility metering"
