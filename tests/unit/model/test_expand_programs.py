"""The whole programs with their tables: the apartment house and the school kitchen."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.support.expansion import plain_text

from fedfrom.findings import Severity
from fedfrom.model.expand import Expanded, expand
from fedfrom.model.expand_lines import head_text
from fedfrom.model.expand_project import read_project
from fedfrom.model.read import read_model
from fedfrom.syntax.tree import Line

PROGRAMS = Path(__file__).parents[2] / "language" / "programs"


def program(name: str) -> Expanded:
    project = read_project(PROGRAMS / f"{name}.fed")
    assert project.findings == ()
    expansion = expand(project)
    assert expansion.findings == ()
    return expansion


def gear(expansion: Expanded, tag: str) -> str:
    """One piece of gear as plain text."""
    lines = [line for line in expansion.tree.statements if isinstance(line, Line)]
    return plain_text([next(line for line in lines if f" {tag} " in f"{head_text(line)} ")])


def test_the_apartment_house_has_its_thirty_two_apartments() -> None:
    expansion = program("apartment-house")
    heads = [head_text(line) for line in expansion.tree.statements if isinstance(line, Line)]
    apartments = [head for head in heads if head.startswith("load center")]
    assert len(apartments) == len(set(apartments)) == 32
    assert gear(expansion, "A-101") == (
        'load center A-101 "Apartment 101" {\n'
        "  fed from MC-1, 52 ft, meter utility, breaker 100 A\n"
        "  voltage 120/208 V\n"
        "  main lugs\n"
        "  dwelling 840 ft2, small-appliance 2, laundry 1\n"
        '  range "Range" 9.6 kW, 208 V 1-phase\n'
        '  dryer "Dryer" 5 kW, 208 V 1-phase\n'
        '  water-heater "Water heater" 4.5 kW, 208 V 1-phase\n'
        '  appliance "Dishwasher" 1.2 kW\n'
        '  appliance "Disposer" 0.6 kW\n'
        '  hvac HP-101 "Heat pump" mca 19 A, mocp 30 A, 208 V 1-phase\n'
        "}"
    )


def test_the_larger_apartment_has_its_own_feed_and_range_and_no_dryer() -> None:
    assert gear(program("apartment-house"), "A-405") == (
        'load center A-405 "Apartment 405" {\n'
        "  fed from MC-2, 150 ft, meter utility, breaker 125 A\n"
        "  voltage 120/208 V\n"
        "  main lugs\n"
        "  dwelling 1180 ft2, small-appliance 2, laundry 1\n"
        '  range "Range" 12 kW, 208 V 1-phase\n'
        '  water-heater "Water heater" 4.5 kW, 208 V 1-phase\n'
        '  appliance "Dishwasher" 1.2 kW\n'
        '  appliance "Disposer" 0.6 kW\n'
        '  hvac HP-405 "Heat pump" mca 19 A, mocp 30 A, 208 V 1-phase\n'
        "}"
    )


def test_the_school_kitchen_has_the_senders_schedule_and_our_device() -> None:
    assert gear(program("school-retrofit"), "KP1") == (
        'panelboard KP1 "Kitchen" {\n'
        "  fed from MDP, 115 ft, breaker 225 A\n"
        "  place K02\n"
        '  kitchen KE-01 "Reach-in refrigerator" 0.9 kW, 120 V 1-phase\n'
        '  kitchen KE-02 "Walk-in cooler condensing unit" 3.2 kW, 208 V 3-phase\n'
        '  kitchen KE-05 "Convection oven" 11 kW, 208 V 3-phase\n'
        '  kitchen KE-08 "Tilting kettle" 12 kW, 208 V 3-phase\n'
        '  kitchen KE-11 "Dishwasher with booster" 24.5 kW, 208 V 3-phase\n'
        '  kitchen KE-12 "Exhaust hood lights" 0.4 kW, 120 V 1-phase\n'
        '  kitchen KE-14 "Combination oven, ten pans" 18.7 kW, 208 V 3-phase, breaker 50 A, shunt trip\n'
        '  kitchen KE-17 "Hot food table" 4.8 kW, 208 V 1-phase\n'
        "}"
    )


@pytest.mark.parametrize("name", ["apartment-house", "school-retrofit", "hospital-wing"])
def test_the_programs_read_without_errors(name: str) -> None:
    reading = read_model(PROGRAMS / f"{name}.fed")
    assert reading.model is not None
    assert not reading.model.incomplete
    assert [f.message for f in reading.findings if f.severity > Severity.NOTE] == []


def test_imported_loads_arrive_in_the_model_as_if_they_were_written() -> None:
    model = read_model(PROGRAMS / "school-retrofit.fed").model
    assert model is not None
    oven = next(load for load in model.items["KP1"].loads if load.tag == "KE-14")
    assert (oven.kind, oven.name, oven.amount.quantity) == ("kitchen", "Combination oven, ten pans", 18_700)
    assert (oven.volts and oven.volts.value, oven.phases) == (208, 3)
    assert oven.device is not None
    assert oven.device.rating_a is not None
    assert (oven.device.rating_a.value, oven.device.options) == (50, frozenset({"shunt trip"}))
    assert [site.text for site in oven.trail] == ["line 8 of kitchen-equipment.csv"]
