"""What is written differently, told in the words of the text and with its place."""

from __future__ import annotations

from tests.support.changes import PLANT, changed, difference, line_of, side

from fedfrom.changes.compare import compare

EDITS = (
    ("25 hp", "60 hp", "DP1 M-1: 25 hp -> 60 hp"),
    ("MSB, 120 ft", "MSB, 420 ft", "DP1 fed from MSB: 120 ft -> 420 ft"),
    ("30 kA", "14 kA", "UT fault: 30 kA -> 14 kA"),
    ("load 10 %", "load 45 %", "default growth: 10 % -> 45 %"),
    ("LSIG", "LSI", "MSB main: LSIG -> LSI"),
    ('"North"', '"North wing"', 'LP1 "North wing": "North" -> "North wing"'),
    (
        '    receptacles  "Bench"',
        '    receptacles  "Sink"     4 outlets, 25 ft\n    receptacles  "Bench"',
        'LP2: circuit `receptacles "Sink" 4 outlets, 25 ft` added',
    ),
    (
        '    equipment    "Oven"      6 kW, 208 V 3-phase, 50 ft\n',
        "",
        'LP2: circuit `equipment "Oven" 6 kW, 208 V 3-phase, 50 ft` taken out',
    ),
    ("    electrode  water pipe, 30 ft\n", "", "MSB: `electrode water pipe, 30 ft` taken out"),
)


def test_every_edit_is_told_with_its_place() -> None:
    """What is gone is told with its place in the old text."""
    replacements = [(old, new) for old, new, _ in EDITS]
    text = changed(*replacements)
    expected = {
        (said, not new, f"plant.fed:{line_of(text if new else PLANT, (new or old).strip().splitlines()[0])}")
        for old, new, said in EDITS
    }
    found = difference(*replacements).edits
    assert {(edit.text, edit.gone, edit.place) for edit in found} == expected
    assert len(found) == len(EDITS)
    assert [edit.gone for edit in found] == sorted(edit.gone for edit in found)  # what is gone comes last


def test_what_a_default_gives_is_one_edit_and_not_one_for_each_item() -> None:
    found = difference(("wire    Cu THHN/THWN-2 in EMT", "wire    Al XHHW-2 in EMT"))
    assert [edit.keys for edit in found.edits] == [("defaults/wire",)]
    materials = [change for change in found.changes if change.key == "feeder/DP1/conductors"]
    assert materials[0].before.endswith("(Cu)")
    assert materials[0].after.endswith("(Al)")
    assert materials[0].because[-1].place == f"plant.fed:{line_of(PLANT, 'wire ')}"


def test_comments_and_layout_are_no_edits() -> None:
    text = PLANT.replace("    wire    Cu", "    # a comment\n\n    wire Cu").replace("25 hp, 60 ft", "25 hp,    60 ft")
    assert compare(side(PLANT), side(text)).same


def test_a_renamed_board_is_a_rename_and_nothing_else() -> None:
    found = compare(side(PLANT), side(PLANT.replace("LP1", "LPA")))
    assert [(each.old, each.new) for each in found.renames] == [("LP1", "LPA")]
    assert (found.edits, found.changes, found.findings, found.bill) == ((), (), (), ())


def test_a_board_renamed_and_changed_is_told_as_taken_out_and_added() -> None:
    found = compare(side(PLANT), side(changed(('LP2 "Laboratory"', 'LPX "Laboratory"'), ("LP1, 90 ft", "LP1, 95 ft"))))
    assert found.renames == ()
    assert {(change.kind, change.labels) for change in found.changes if change.key in ("LP2", "LPX")} == {
        ("removed", ("LP2",)),
        ("added", ("LPX",)),
    }


TYPICAL = """fedfrom 1
project "Floors" { code NEC 2023 }
utility UT {
    voltage 480Y/277 V
    fault   20 kA at service point, X/R 6
}
switchboard MSB "Main" {
    fed from UT, 40 ft
    main     breaker 800 A
    place    indoor "Room"
}
typical Floor(level, run) {
    panelboard DH-[level] "Level [level]" {
        fed from MSB, [run] ft
        place    indoor "Closet [level]"
        motor    FAN-[level] "Fan" 10 hp, 60 ft
    }
}
for level in 1..3 {
    use Floor(level: [level], run: [40 + 10 * level])
}
use Floor(level: 9, run: 200)
"""


def test_a_line_of_a_typical_is_one_edit_for_all_its_uses() -> None:
    found = compare(side(TYPICAL), side(TYPICAL.replace("10 hp", "20 hp")))
    (edit,) = found.edits
    assert (edit.text, edit.count) == ("DH-1 FAN-1 and 3 more: 10 hp -> 20 hp", 4)
    assert edit.place == f"plant.fed:{line_of(TYPICAL, 'motor ')}"
    assert {change.because[-1].place for change in found.changes} == {edit.place}


def test_an_argument_is_told_where_the_typical_is_used() -> None:
    found = compare(side(TYPICAL), side(TYPICAL.replace("run: 200", "run: 260")))
    (edit,) = found.edits
    assert edit.text == "DH-9 fed from MSB: run: 200 -> 260"
    assert edit.place == f"plant.fed:{line_of(TYPICAL, 'use Floor(level: 9')}"
