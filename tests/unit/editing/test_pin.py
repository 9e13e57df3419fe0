"""Pinning: values go to their one home, the rest of the text stays, the design stays the same."""

from __future__ import annotations

import re
from functools import lru_cache

import pytest

from fedfrom.compile import Compilation, compile_texts
from fedfrom.editing.formatting import format_text
from fedfrom.editing.pin import PinPlan, plan_pins
from fedfrom.editing.pin_edits import apply, edits_for
from fedfrom.editing.pin_offers import offers
from fedfrom.editing.pin_types import Candidate, Home, How
from fedfrom.editing.same_design import differences, new_findings
from fedfrom.model.expand import expand
from fedfrom.model.expand_project import project_of_text
from fedfrom.source import SourceFile
from fedfrom.syntax.parse import parse_file
from fedfrom.syntax.tree import Line

SHOP = """\
fedfrom 1

# The shop.
project "Shop" {
    number  "S-1"
    code    NEC 2023
}

utility UT {
    voltage     480Y/277 V
    fault       20 kA at service point, X/R 6
}

gear MSB "Main" {                               # class left open
    fed from    UT, 40 ft, wire by utility
    main        breaker, LSI                    # the trip is chosen
    place       indoor "Room 1"
    motor       FN-1 "Fan"      25 hp, 60 ft
    lighting    "Hall"          6 kVA, 277 V, 80 ft
    new spare   20 A 1-pole x 2
}

transformer T2 {
    fed from    MSB, 30 ft {
        breaker LSI                             # as the owner wishes
        sets    1
    }
    secondary   208Y/120 V
}

panelboard LP1 "Panel" {
    fed from    T2, 12 ft                       # next door
    place       indoor "Room 1"

    # by the owner
    receptacles "Desks"                     40 outlets, 60 ft
    equipment   "Kiosk"                     1 kVA, 120 V x 3, 90 ft
    7           equipment   "Sign"          1 kVA, 120 V, 90 ft
    circuit     "Rooms" {
        receptacles 3 outlets
        lighting    300 VA
    }
    spare       20 A 1-pole x 2
}

panelboard LP2 "Far panel" {
    fed from    LP1, 20 ft, breaker 40 A
    place       indoor "Room 2"
    main        lugs
    equipment   "Copier"        1.5 kVA, 208 V 1-phase, 40 ft
}

typical Booth(n, run) {
    load center B-[n] {
        fed from    LP1, [run] ft
        main        lugs
        place       indoor "Booth [n]"
        equipment   "Booth [n]"     0.5 kVA, 120 V, 20 ft
    }
}
use Booth(n: 1, run: 30)
"""


@lru_cache
def compiled(text: str = SHOP) -> Compilation:
    done = compile_texts({"shop.fed": text}, "shop.fed")
    assert done.results is not None
    return done


def planned(*subjects: str, text: str = SHOP) -> PinPlan:
    done = compiled(text)
    assert done.model is not None
    assert done.results is not None
    return plan_pins(done.model, done.results, done.files, subjects)


def changed_lines(*subjects: str, text: str = SHOP) -> list[str]:
    """The lines that pinning brings into the text, which must say the same design."""
    plan = planned(*subjects, text=text)
    assert plan.unknown is None
    new = plan.texts["shop.fed"]
    before, after = compiled(text), compiled(new)
    assert before.results is not None
    assert after.results is not None
    assert differences(before.results, after.results) == ()
    assert new_findings(before.findings, after.findings) == ()
    old = text.splitlines()
    return [line.strip() for line in new.splitlines() if line not in old]


def shapes(lines: list[str]) -> list[str]:
    """Lines with `#` for every number, and with single blanks: what is chosen is checked by the results, not here."""
    return [re.sub(r"\b\d[\d/]*\b", "#", " ".join(line.split())) for line in lines]


def test_the_program_is_canonical_and_clean() -> None:
    assert format_text(SourceFile("shop.fed", SHOP)).text == SHOP
    assert [f.message for f in compiled().findings if f.severity.word in ("error", "warning")] == []


@pytest.mark.parametrize(
    ("subject", "lines"),
    [
        ("LP1.bus", ["bus         60 A"]),
        ("MSB.main", ["main        breaker 80 A, LSI               # the trip is chosen"]),
        ("MSB.class", ['panelboard MSB "Main" {                         # class left open']),
        ("T2.rating", ["rating      9 kVA"]),
        ("T2.kva", ["rating      9 kVA"]),
        ("T2.feeder.device", ["breaker 25 A, LSI                       # as the owner wishes"]),
        ("LP1.feeder.phase", ["fed from    T2, 12 ft, phase 3 AWG          # next door"]),
        ("LP1.3.device", ['receptacles "Desks"                     40 outlets, 60 ft, breaker 20 A']),
        ("LP1.7.device", ['7           equipment   "Sign"          1 kVA, 120 V, 90 ft, breaker 20 A']),
        ("MSB.sccr", ["sccr        22 kA"]),
    ],
)
def test_a_value_goes_to_its_home(subject: str, lines: list[str]) -> None:
    assert shapes(changed_lines(subject)) == shapes(lines)


def test_a_tag_pins_its_positions_and_sizes_and_keeps_every_comment() -> None:
    assert shapes(changed_lines("LP1")) == shapes(
        [
            "fed from    T2, 12 ft, phase 3 AWG, neutral 3 AWG, raceway 1-1/4 inch # next door",
            "main        breaker 50 A",
            "bus         60 A",
            '3,5,1,4     receptacles "Desks"         40 outlets, 60 ft, 120 V',
            '6,2,11      equipment   "Kiosk"         1 kVA, 120 V x 3, 90 ft',
            '9           circuit     "Rooms" {',
            "8,10        spare       20 A 1-pole x 2",
            "fed from    LP1, 20 ft, breaker 40 A, position 14,16,18",
        ]
    )


def test_several_tags_and_facts_in_braces() -> None:
    found = changed_lines("T2.feeder", "LP2.circuits")
    assert shapes(found)[:2] == [
        "fed from MSB, # ft, phase # AWG, ground # AWG, raceway # inch {",
        "breaker # A, LSI # as the owner wishes",
    ]
    assert '1,3         equipment   "Copier"        1.5 kVA, 208 V 1-phase, 40 ft {' in found


def test_layout_of_a_text_that_is_not_canonical_stays() -> None:
    loose = SHOP.replace("    bus ", "  bus ").replace("load center B-[n] {", "load center   B-[n] {")
    text = loose.replace('panelboard LP2 "Far panel" {\n', 'panelboard   LP2 "Far panel" {\n')
    plan = planned("LP2.bus", text=text)
    new = plan.texts["shop.fed"]
    assert [line for line in new.splitlines() if line not in text.splitlines()] == ["    bus 60 A"]


@pytest.mark.parametrize(
    ("head", "after"),
    [
        ("transformer T2 { fed from UT, 9 ft }", "transformer T2 {\n    fed from UT, 9 ft\n    rating 9 kVA\n}"),
        ("  transformer  T2", "  transformer  T2 {\n      rating 9 kVA\n  }"),
        ("transformer T2 {  }", "transformer T2 {\n    rating 9 kVA\n}"),
    ],
)
def test_a_property_makes_room_for_itself(head: str, after: str) -> None:
    source = SourceFile("t.fed", head + "\n")
    line = parse_file(source).tree.statements[0]
    assert isinstance(line, Line)
    wanted = [Candidate("T2.rating", "rating 9 kVA", How.PROPERTY, Home("T2", line.span))]
    assert apply(source.text, edits_for(line, wanted, source.text)) == after + "\n"


def test_what_is_written_already_is_left_alone() -> None:
    plan = planned("LP2.main", "LP1.7.position")
    assert plan.texts == {}
    assert [pin.subject for pin in plan.already] == ["LP2.main", "LP1.7.position"]


def test_unknown_names_get_near_ones() -> None:
    assert planned("LP3", "LP1.bsu", "LP1").unknown == {
        "LP3": ("LP2", "LP1"),
        "LP1.bsu": ("LP1.bus", "LP1.sccr", "LP1.class"),
    }


def test_a_typical_is_not_changed_and_the_offered_text_pins_the_same() -> None:
    plan = planned("B-1")
    assert plan.texts == {}
    assert {each.reason for each in plan.unpinned} == {"it comes from `typical Booth`, which others use too"}
    done = compiled()
    expanded = expand(project_of_text(SHOP, "shop.fed")).tree
    (offer,) = offers(plan.apart, expanded, done.files)
    assert offer.where == "write in the braces of the `use`"
    text = SHOP.replace("use Booth(n: 1, run: 30)\n", offer.text + "\n")
    pinned = compiled(text)
    assert done.results is not None
    assert pinned.results is not None
    assert differences(done.results, pinned.results) == ()
    assert pinned.results.gear["B-1"].bus_origin.value == "written"


def test_a_loop_and_a_table_are_not_changed() -> None:
    text = SHOP.replace("use Booth(n: 1, run: 30)", "for k in 1..2 { use Booth(n: [k], run: [10 * k]) }")
    plan = planned("B-2.bus", text=text)
    assert plan.texts == {}
    (offer,) = offers(plan.apart, expand(project_of_text(text, "shop.fed")).tree, compiled(text).files)
    assert offer.where == "take this turn out of `for k in 1..2` and write"
    assert offer.text.splitlines()[:2] == ["use Booth(n: 2, run: 20) {", "    change B-2 {"]


def test_a_design_that_differs_is_seen() -> None:
    before, after = compiled(), compiled(SHOP.replace("40 outlets, 60 ft", "90 outlets, 60 ft"))
    assert before.results is not None
    assert after.results is not None
    assert differences(before.results, after.results)
    assert new_findings((), compiled().findings) == compiled().findings


def test_a_class_whose_circuits_are_numbered_one_a_device_stays_so() -> None:
    """A gear of three-pole devices alone is numbered consecutively; written as a panelboard it says so."""
    text = SHOP.replace('    lighting    "Hall"          6 kVA, 277 V, 80 ft\n    new spare   20 A 1-pole x 2\n', "")
    assert all(not row.positions for row in compiled(text).results.circuits["MSB"])  # type: ignore[union-attr]
    lines = changed_lines("MSB.class", text=text)
    assert lines == ['panelboard MSB "Main" {                         # class left open', "numbering   consecutive"]
