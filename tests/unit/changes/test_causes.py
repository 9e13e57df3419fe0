"""Every consequence has its chain down to the line that was changed."""

from __future__ import annotations

import pytest
from tests.support.changes import PLANT, changed, difference, line_of, side

from fedfrom.changes.notation import amperes, conductors_shown, device_shown, kiloamperes
from fedfrom.changes.types import Change, Difference
from fedfrom.results.governing import governing_fault, governing_load

BIGGER_MOTOR = ("25 hp", "60 hp")
MORE_OUTLETS = (
    '    receptacles  "Bench"',
    '    receptacles  "Sink"      12 outlets, 25 ft\n    receptacles  "Bench"',
)


def change(found: Difference, key: str) -> Change:
    return next(each for each in found.changes if each.key == key)


def test_a_feeder_grows_because_the_demand_grows_because_a_motor_was_changed() -> None:
    found = difference(BIGGER_MOTOR)
    feeder = change(found, "feeder/DP1/conductors")
    old, new = side(PLANT).results, side(changed(BIGGER_MOTOR)).results
    # Every figure of the chain is a figure of the two results, not one of this module's own.
    assert (feeder.before, feeder.after) == (
        conductors_shown(old.feeders["DP1"].conductors),
        conductors_shown(new.feeders["DP1"].conductors),
    )
    demands = [governing_load(results, "DP1") for results in (old, new)]
    assert all(demands)
    needed = [results.feeders["DP1"].design_a for results in (old, new)]
    assert [cause.text for cause in feeder.because] == [
        f"current needed at DP1 {amperes(needed[0])} -> {amperes(needed[1])}",
        f"DP1 demand {amperes(demands[0].demand_a)} -> {amperes(demands[1].demand_a)}",  # type: ignore[union-attr]
        "DP1 M-1: 25 hp -> 60 hp",
    ]
    assert feeder.because[-1].place == f"plant.fed:{line_of(PLANT, 'M-1')}"


def test_a_fault_grows_because_the_feeder_grows() -> None:
    found = change(difference(BIGGER_MOTOR), "fault/DP1")
    old, new = (governing_fault(side(text).results, "DP1") for text in (PLANT, changed(BIGGER_MOTOR)))
    assert old is not None
    assert new is not None
    assert (found.before, found.after) == (kiloamperes(old.greatest_a), kiloamperes(new.greatest_a))
    assert found.because[0].text.startswith("feeder to DP1 ")


def test_two_edits_each_explain_their_own_part() -> None:
    found = difference(BIGGER_MOTOR, MORE_OUTLETS)
    first, second = found.edits
    for each in found.changes:
        side_of = each.subject.partition(".")[0]
        if side_of == "DP1":
            assert each.because[-1].place == first.place, each
        if side_of in ("LP1", "LP2", "T1"):
            assert each.because[-1].place == second.place, each
    assert change(found, "load/MSB").edits == (1, 2)


def test_a_new_circuit_is_told_as_a_whole_and_moves_the_others() -> None:
    found = difference(MORE_OUTLETS)
    added = change(found, "circuit/LP2/receptacles Sink")
    row = next(row for row in side(changed(MORE_OUTLETS)).results.circuits["LP2"] if row.name == "Sink")
    assert added.area == "Added"
    assert added.after.startswith(f"{device_shown(row.device)}; {conductors_shown(row.conductors)}")
    assert not [each for each in found.changes if each.key.startswith("circuit/LP2/receptacles Sink/")]
    moved = [each for each in found.changes if each.area == "Circuit positions"]
    assert {each.labels for each in moved} == {('LP2 "Bench"',)} or all("LP2" in each.labels[0] for each in moved)


SINGLE_EDITS = {
    "load": BIGGER_MOTOR,
    "length": ("MSB, 120 ft", "MSB, 420 ft"),
    "source": ("30 kA", "14 kA"),
    "source point": ("fed from     LP1, 90 ft", "fed from     T1, 90 ft"),
    "growth": ("load 10 %", "load 45 %"),
    "drop": ("feeder 2 %", "feeder 0.5 %"),
    "main": ("breaker 1200 A, LSIG", "breaker 1600 A, LSIG"),
    "transformer": ("    secondary  208Y/120 V\n", "    secondary  208Y/120 V\n    rating     150 kVA\n"),
    "place": ('place      indoor "Hall 1"', 'place      indoor "Hall 1", washdown'),
    "ambient": ("    drop    feeder", "    ambient 60 C\n    drop    feeder"),
    "edition": ("NEC 2023", "NEC 2017"),
}


@pytest.mark.parametrize("edit", SINGLE_EDITS.values(), ids=SINGLE_EDITS)
def test_every_consequence_of_one_edit_leads_to_it(edit: tuple[str, str]) -> None:
    found = difference(edit)
    assert len(found.edits) == 1
    place = found.edits[0].place
    assert found.changes
    assert [each.key for each in found.changes if not each.because or each.because[-1].place != place] == []
    assert [each.description for each in found.bill if not each.because or each.because[-1].place != place] == []
    assert all(each.edits == (1,) for each in found.changes)
