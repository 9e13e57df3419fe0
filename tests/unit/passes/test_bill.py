"""The bill counts what is bought, lists apart what is only worked on, and says what it could not count."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.support.bill_fixture import work_of
from tests.support.results_fixture import dwelling, ugly, works

from fedfrom.model.items import Status
from fedfrom.passes.bill import run
from fedfrom.results.types import BillLine
from fedfrom.rules.registry import Design


def bill_of(design: Design) -> tuple[BillLine, ...]:
    return run(work_of(design)).bill


def line(lines: tuple[BillLine, ...], start: str) -> BillLine:
    found = [each for each in lines if each.description.startswith(start)]
    assert len(found) == 1, [each.description for each in lines]
    return found[0]


def test_two_lists_engineered_gear_first() -> None:
    lines = bill_of(works())
    names = [each.list_name for each in lines]
    assert names == sorted(names)
    kinds = [each.kind for each in lines if each.list_name == "factory gear" and not each.part_of]
    assert kinds == sorted(kinds, key=["engineered", "factory-assembled", "stock"].index)


def test_conductors_of_a_feeder_by_hand() -> None:
    """DP1: 2 sets of 3 conductors, 180 ft; make-up 10 ft at a switchboard, 5 ft at a panelboard; waste 10 %.

    2 x 3 x 180 = 1080 ft net; 2 x 3 x (180 + 15) x 1.1 = 1287 ft.
    """
    found = line(bill_of(works()), "Conductor, Cu, THHN/THWN-2, 350 kcmil")
    assert (found.net, found.allowance, found.quantity, found.unit, found.tags) == (1080, 207, 1287, "ft", ("DP1",))
    assert found.key == "conductor/Cu/THHN-THWN-2/350"


def test_conductors_by_the_utility_are_not_bought() -> None:
    lines = bill_of(works())
    assert not [each for each in lines if "600 kcmil" in each.description]
    raceway = [each for each in lines if each.description == "Raceway, EMT, 4 inch"]
    assert raceway == []


def test_an_unknown_length_is_said_and_not_counted_as_nothing() -> None:
    found = line(bill_of(works()), "Conductor, Cu, THHN/THWN-2, 12 AWG")
    assert "NOT COUNTED, length not known: circuit LP1.5" in found.note


def test_equal_assemblies_are_one_line_with_their_tags() -> None:
    design = works()
    twin = replace(design.results.gear["EP1"], tag="EP2")
    circuits = {**design.results.circuits, "EP2": design.results.circuits["EP1"]}
    results = replace(design.results, gear={**design.results.gear, "EP2": twin}, circuits=circuits)
    found = line(bill_of(replace(design, results=results)), "Panelboard, 480Y/277 V 3-phase 4-wire, 100 A")
    assert (found.tags, found.quantity) == (("EP1", "EP2"), 2)


def test_devices_of_a_switchboard_are_parts_of_it() -> None:
    lines = bill_of(works())
    board = line(lines, "Switchboard, service")
    parts = [each for each in lines if each.part_of == board.key]
    assert [each.quantity for each in parts] == [1, 1, 1, 1, 1, 1]
    assert parts[0].description == "Main: Breaker, 1600 A frame, 1600 A trip, 3-pole, LSIG, 65 kA"
    assert any(each.description.startswith("Spare: Breaker, 400 A") for each in parts)
    assert any(each.description.startswith("Space, 3-pole") for each in parts)


@pytest.mark.parametrize(
    ("status", "listed"),
    [(Status.NEW, True), (Status.EXISTING, False), (Status.FUTURE, False), (Status.DEMOLISH, True)],
)
def test_status_decides_what_is_listed(status: Status, listed: bool) -> None:
    design = works()
    gear = {**design.results.gear, "EP1": replace(design.results.gear["EP1"], status=status)}
    lines = bill_of(replace(design, results=replace(design.results, gear=gear)))
    found = [each for each in lines if "EP1" in each.tags and each.list_name == "factory gear" and not each.part_of]
    assert bool(found) is listed
    if status is Status.DEMOLISH:
        assert found[0].description.startswith("Remove: panelboard")
        assert found[0].status == "demolish"


def test_what_others_provide_is_not_bought() -> None:
    design = works()
    gear = {**design.results.gear, "MCC1": replace(design.results.gear["MCC1"], by="owner")}
    lines = bill_of(replace(design, results=replace(design.results, gear=gear)))
    assert not [each for each in lines if "MCC1" in each.tags and each.list_name == "factory gear"]


def test_a_new_device_in_existing_gear_is_a_line_of_its_own() -> None:
    design = works()
    gear = {**design.results.gear, "EP1": replace(design.results.gear["EP1"], status=Status.EXISTING)}
    lines = bill_of(replace(design, results=replace(design.results, gear=gear)))
    found = next(each for each in lines if each.tags == ("EP1.1",))
    assert found.description == "Breaker, 100 A frame, 20 A trip, 3-pole, 22 kA"
    assert not found.part_of
    assert "in existing panelboard EP1" in found.note


def test_unknown_ratings_become_assumptions() -> None:
    found = line(bill_of(dwelling()), "Load center")
    assert "short-circuit rating NOT KNOWN" in found.description
    assert "short-circuit rating to be established" in found.assumed
    assert "bus material to be stated" in found.assumed


@pytest.mark.parametrize("make", [works, dwelling, ugly])
def test_every_line_has_what_an_order_needs(make: object) -> None:
    for each in bill_of(make()):  # type: ignore[operator]
        assert each.description
        assert "None" not in each.description + each.note + each.key
        assert each.quantity == pytest.approx(each.net + each.allowance)
        assert each.unit in {"ea", "ft", "set", "lot"}
        assert each.key
