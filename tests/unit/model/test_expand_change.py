"""`change` and `omit`: what one use of a typical has otherwise, and what is ours in an imported schedule."""

from __future__ import annotations

from textwrap import dedent

import pytest
from tests.support.expansion import Shown, expanded

from fedfrom.findings import Severity

APARTMENT = """
    typical Apt(unit) {
        load center A-[unit] "Apartment [unit]" {
            fed from     MC-1, 60 ft, meter utility, breaker 100 A
            main         lugs
            electrode    rod, 10 ft
            electrode    water pipe, 12 ft
            range        "Range" 9.6 kW, 208 V 1-phase
            dryer        "Dryer" 5 kW, 208 V 1-phase
            appliance    "Dishwasher" 1.2 kW
            appliance    "Disposer" 0.6 kW
            hvac HP-[unit] "Heat pump" mca 19 A, mocp 30 A, 208 V 1-phase, breaker 25 A
        }
    }
"""
KITCHEN = "Item,Equipment,V,Ph,kW\nKE-1,Oven,208,3,12\nKE-2,Kettle,208,3,9\n"


def apartment(changes: str) -> Shown:
    block = f" {{\n{changes}\n}}" if changes else ""
    return expanded(dedent(APARTMENT) + f"use Apt(unit: 7){block}\n")


def lines(shown: Shown) -> list[str]:
    return [line.strip() for line in shown.text.splitlines()]


def gear(inside: str) -> Shown:
    text = f'panelboard KP1 {{\n{inside}\n}}\nloads from "k.csv" into KP1 {{ tag "Item", name "Equipment", volts "V"\n'
    return expanded(text + 'phases "Ph", load "kW", kind kitchen }\n', {"k.csv": KITCHEN})


def test_without_changes_every_instance_is_the_text_of_the_typical() -> None:
    assert lines(apartment(""))[1] == "fed from MC-1, 60 ft, meter utility, breaker 100 A"


def test_a_property_takes_the_place_of_the_same_property() -> None:
    shown = apartment("change A-7 { fed from MC-1, 60 ft, breaker 125 A }")
    assert shown.findings == ()
    assert lines(shown)[:3] == ['load center A-7 "Apartment 7" {', "fed from MC-1, 60 ft, breaker 125 A", "main lugs"]


def test_all_lines_of_a_property_that_repeats_are_replaced_together() -> None:
    shown = lines(apartment("change A-7 {\n electrode plate, 20 ft\n electrode ground ring, 30 ft\n}"))
    assert shown[3:5] == ["electrode plate, 20 ft", "electrode ground ring, 30 ft"]
    assert shown[5].startswith("range")


def test_a_load_is_matched_by_kind_and_title_and_replaced_in_its_place() -> None:
    shown = lines(apartment('change A-7 { range "Range" 12 kW, 208 V 1-phase }'))
    assert shown[5] == 'range "Range" 12 kW, 208 V 1-phase'
    assert len(shown) == 11


def test_a_load_is_matched_by_its_tag() -> None:
    shown = lines(apartment('change A-7 { hvac HP-7 "Larger heat pump" mca 25 A, mocp 40 A, 208 V 1-phase }'))
    assert shown[9] == 'hvac HP-7 "Larger heat pump" mca 25 A, mocp 40 A, 208 V 1-phase'
    assert len(shown) == 11


def test_anything_else_is_added_at_the_end() -> None:
    shown = lines(apartment('change A-7 {\n appliance "Disposer 2" 0.6 kW\n sccr 22 kA\n}'))
    assert shown[10:12] == ['appliance "Disposer 2" 0.6 kW', "sccr 22 kA"]


@pytest.mark.parametrize(
    ("order", "gone"),
    [
        ("omit dryer", ['dryer "Dryer" 5 kW, 208 V 1-phase']),
        ('omit appliance "Disposer"', ['appliance "Disposer" 0.6 kW']),
        ("omit HP-7", ['hvac HP-7 "Heat pump" mca 19 A, mocp 30 A, 208 V 1-phase, breaker 25 A']),
        ("omit electrode", ["electrode rod, 10 ft", "electrode water pipe, 12 ft"]),
        ('omit dryer, appliance "Disposer"', ['dryer "Dryer" 5 kW, 208 V 1-phase', 'appliance "Disposer" 0.6 kW']),
    ],
)
def test_omit(order: str, gone: list[str]) -> None:
    shown = apartment(f"change A-7 {{ {order} }}")
    assert shown.findings == ()
    assert [line for line in lines(apartment("")) if line not in lines(shown)] == gone


def test_a_whole_item_is_omitted_in_the_braces_of_the_use() -> None:
    assert apartment("omit A-7").text == ""


def test_options_of_a_load_are_changed_by_its_tag() -> None:
    options = ["breaker 30 A, shunt trip", "40 ft", "mca 22 A", "omit mocp", "240 V 1-phase", "existing"]
    shown = apartment("change HP-7 {\n" + "\n".join(options) + "\n}")
    assert shown.findings == ()
    assert lines(shown)[9] == 'existing hvac HP-7 "Heat pump" mca 22 A, 240 V 1-phase, breaker 30 A, shunt trip, 40 ft'


def test_options_in_the_braces_of_a_load_are_changed_where_they_stand() -> None:
    shown = expanded("""
        typical P(n) {
            panelboard P[n] {
                7 equipment EQ-[n] "Kiln" 9 kW, 208 V 1-phase {
                    breaker 60 A, shunt trip
                    65 ft
                }
            }
        }
        use P(n: 1) { change EQ-1 {
            breaker 50 A
            80 ft
            11 kW
            position 7,9
        } }
    """)
    assert shown.findings == ()
    assert lines(shown)[1:4] == [
        '7,9 equipment EQ-1 "Kiln" 11 kW, 208 V 1-phase {',
        "breaker 50 A, shunt trip",
        "80 ft",
    ]


def test_a_change_may_hold_brackets() -> None:
    shown = expanded(dedent(APARTMENT) + "for n in 1..2 { use Apt(unit: [n]) { change A-[n] { bus [n * 100] A } } }\n")
    assert shown.findings == ()
    assert [line for line in lines(shown) if line.startswith("bus")] == ["bus 100 A", "bus 200 A"]


def test_what_a_change_writes_has_its_own_place() -> None:
    shown = apartment("change A-7 { bus 225 A }")
    line = shown.line("bus")
    assert (shown.marked(line.span), line.trail) == ("bus 225 A", ())


# --- in gear ----------------------------------------------------------------------------------------------------------


def test_a_row_of_an_import_is_changed_in_its_gear() -> None:
    shown = gear("change KE-2 { breaker 50 A, shunt trip }\nomit KE-1")
    assert shown.findings == ()
    assert lines(shown)[1:-1] == ['kitchen KE-2 "Kettle" 9 kW, 208 V 3-phase, breaker 50 A, shunt trip']


def test_changes_may_stand_before_or_after() -> None:
    before = gear("fed from M, 9 ft\nchange KE-2 { 60 ft }\nlighting 400 VA")
    after = gear("fed from M, 9 ft\nlighting 400 VA\nchange KE-2 { 60 ft }")
    assert before.text == after.text


def test_what_a_use_in_gear_makes_is_changed_in_the_gear() -> None:
    shown = expanded("""
        typical Pair(n) { equipment EQ-[n] "Rack [n]" 2 kVA }
        panelboard P1 {
            for n in 1..2 { use Pair(n: [n]) }
            change EQ-2 { 3 kVA }
        }
    """)
    assert shown.findings == ()
    assert lines(shown)[1:3] == ['equipment EQ-1 "Rack 1" 2 kVA', 'equipment EQ-2 "Rack 2" 3 kVA']


def test_a_change_of_an_import_may_be_given_by_a_use() -> None:
    shown = expanded(
        """
        typical Kitchen(n) { panelboard KP[n] { fed from M, 9 ft } }
        use Kitchen(n: 1) { change KP1 { change KE-1 { 40 ft } } }
        loads from "k.csv" into KP1 { tag "Item", name "Equipment", volts "V", phases "Ph", load "kW", kind kitchen }
        """,
        {"k.csv": KITCHEN},
    )
    assert shown.findings == ()
    assert 'kitchen KE-1 "Oven" 12 kW, 208 V 3-phase, 40 ft' in shown.text


def test_rows_in_gear_of_a_typical_are_changed_there() -> None:
    shown = expanded(
        """
        typical Kitchen(n) { panelboard KP[n] {
            change KE-1 { 40 ft }
            lighting 400 VA
        } }
        use Kitchen(n: 1)
        loads from "k.csv" into KP1 { tag "Item", name "Equipment", volts "V", phases "Ph", load "kW", kind kitchen }
        """,
        {"k.csv": KITCHEN},
    )
    assert shown.findings == ()
    assert 'kitchen KE-1 "Oven" 12 kW, 208 V 3-phase, 40 ft' in shown.text


# --- findings ---------------------------------------------------------------------------------------------------------

IN_USE = [
    ("change A-8 { bus 225 A }", "change-unknown", "A-8", "`A-7` is close"),
    ("change MSB { bus 225 A }", "change-unknown", "MSB", "it makes A-7, HP-7"),
    ("change A-7", "change-form", "change A-7", "braces"),
    ("change { bus 225 A }", "change-form", "change", "one tag"),
    ("change A-7 { omit drier }", "omit-nothing", "drier", "`dryer` is close"),
    ("change A-7 { omit sccr }", "omit-nothing", "sccr", "matches nothing"),
    ("change A-7 { omit appliance }", "change-ambiguous", "appliance", "matches 2 lines"),
    ("change A-7 { omit }", "omit-form", "omit", "omit TAG"),
    ("omit B-7", "omit-nothing", "B-7", "`A-7` is close"),
    ("panelboard A-7 { bus 225 A }", "use-block", "panelboard A-7", "write `change A-7 { … }`"),
    ("bus 225 A", "use-block", "bus 225 A", "write `change TAG { … }`"),
    ("change HP-7 { omit frame }", "omit-nothing", "omit frame", "an option that the load has"),
    ("change HP-7 { change X { bus 1 A } }", "change-form", "change X", "options"),
    ("change HP-7 { position a }", "splice-position", "a", "whole numbers"),
    ("change A-[nit] { bus 225 A }", "unknown-parameter", "nit", "none here"),
]


@pytest.mark.parametrize(("changes", "rule", "letters", "words"), IN_USE, ids=[row[0] for row in IN_USE])
def test_what_is_refused_in_a_use(changes: str, rule: str, letters: str, words: str) -> None:
    shown = apartment(changes)
    finding = shown.only(rule)
    assert finding.severity is Severity.ERROR
    assert shown.marked(finding.span) == letters
    assert words in finding.message + finding.help


@pytest.mark.parametrize(
    ("changes", "letters"),
    [
        ("change A-7 { main lugs }", "main lugs"),
        ('change A-7 { range "Range" 9.6 kW, 208 V 1-phase }', 'range "Range" 9.6 kW'),
        ("change HP-7 { breaker 25 A }", "breaker 25 A"),
        ("change HP-7 { mca 19 A }", "mca 19 A"),
        ("change HP-7 { 208 V 1-phase }", "208 V 1-phase"),
    ],
)
def test_an_equal_value_is_a_note(changes: str, letters: str) -> None:
    shown = apartment(changes)
    finding = shown.only("change-equal")
    assert finding.severity is Severity.NOTE
    assert shown.marked(finding.span) == letters
    assert shown.text == apartment("").text


def test_what_is_written_out_in_gear_is_changed_where_it_stands() -> None:
    for order in ("change EQ-1 { 3 kVA }", "omit EQ-1", 'omit equipment "Rack"'):
        shown = gear(f'equipment EQ-1 "Rack" 2 kVA\n{order}')
        finding = shown.only("change-written")
        assert shown.marked(finding.related[0].span) == 'equipment EQ-1 "Rack" 2 kVA'


def test_a_row_that_is_gone_from_the_schedule_is_noticed() -> None:
    finding = gear("change KE-3 { breaker 50 A }").only("change-unknown")
    assert finding.help == "`KE-1` or `KE-2` is close"


def test_changes_outside_of_a_use_and_of_gear() -> None:
    assert expanded("change KP1 { bus 225 A }").only("change-place").help.startswith("put it in the braces")
    assert expanded("omit KP1").only("change-place")
