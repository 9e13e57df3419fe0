"""Lowering: every slip gives one finding, at the words that are wrong, with the form that is right."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fedfrom.findings import Severity
from fedfrom.model.items import FactTable
from fedfrom.model.lower import lower
from fedfrom.model.lower_match import Match, match_patterns
from fedfrom.model.lower_values import read_quantity, read_size, read_system, read_trade
from fedfrom.model.lowered import LoweredLine, to_fact
from fedfrom.model.read import read_text
from fedfrom.quantity import UNITS, Quantity
from fedfrom.source import SourceFile, Span
from fedfrom.syntax.parse import parse_file
from fedfrom.syntax.tree import Word
from fedfrom.vocabulary import load_vocabulary

VOCABULARY = load_vocabulary()
PANEL = """fedfrom 1
utility UT {{
    voltage 480Y/277 V
    fault 30 kA at service point
}}
panelboard LP1 "Hall" {{
    fed from UT, 20 ft
    {line}
}}
"""


def words(text: str) -> tuple[Word, ...]:
    return tuple(Word((word,), Span("t", 0, 0)) for word in text.split())


def lowered_line(line: str) -> LoweredLine:
    parsed = parse_file(SourceFile("t.fed", f"panelboard LP1 {{\n{line}\n}}"))
    lowered = lower(parsed.tree)
    assert not [f for f in (*parsed.findings, *lowered.findings) if f.severity > Severity.NOTE]
    return lowered.lines[0].children[0]


# --- values --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "value", "used"),
    [
        ("20 A", Quantity.of(20, "A"), 2),
        ("20A", Quantity.of(20, "A"), 1),
        ("11_500 ft2", Quantity.of(11500, "ft2"), 2),
        ("12.47 kV", Quantity.of(Fraction("12.47"), "kV"), 2),
        ("7-1/2 hp", Quantity.of(Fraction(15, 2), "hp"), 2),
        ("1/2hp", Quantity.of(Fraction(1, 2), "hp"), 1),
        ("-10 F", Quantity.of(-10, "F"), 2),
        ("3 VA/ft2", Quantity.of(3, "VA/ft2"), 2),
    ],
)
def test_quantities(text: str, value: Quantity, used: int) -> None:
    read = read_quantity(words(text), 0)
    assert read is not None
    assert (read.value, read.used) == (value, used)


@pytest.mark.parametrize("text", ["1/2 ft", "20 amps", "20", "A", "3/0 AWG", "LP-2", "2A2", "1/0 hp"])
def test_what_is_no_quantity(text: str) -> None:
    assert read_quantity(words(text), 0) is None


@pytest.mark.parametrize(
    ("text", "literal"),
    [
        ("480Y/277 V", "480Y/277 V"),
        ("480Y/277V", "480Y/277 V"),
        ("240/120 V high-leg", "240/120 V high-leg"),
        ("480 V ungrounded", "480 V ungrounded"),
        ("480 V", "480 V"),
        ("125/250 V DC", "125/250 V DC"),
        ("120 V isolated", "120 V isolated"),
    ],
)
def test_systems_take_their_qualifier(text: str, literal: str) -> None:
    read = read_system(words(text), 0)
    assert read is not None
    assert getattr(read.value, "literal", "") == literal
    assert read.used == len(text.split())


def test_sizes_are_names_of_the_tables() -> None:
    assert [read_size(words(t), 0).value for t in ("12 AWG", "3/0 AWG", "250 kcmil", "12AWG")] == [  # type: ignore[union-attr]
        "12",
        "3/0",
        "250",
        "12",
    ]
    assert [read_size(words(t), 0) for t in ("5/0 AWG", "13 AWG", "275 kcmil", "250 AWG", "12")] == [None] * 5
    assert read_trade(words("1-1/4 inch"), 0).value == "1-1/4"  # type: ignore[union-attr]
    assert read_trade(words("7 inch"), 0) is None


def test_a_tag_that_could_be_a_quantity_is_one_where_the_load_follows() -> None:
    """`equipment 2A "Rack" 6 kW`: 2A is a tag, for the load comes after it; `equipment 2A` is a load of 2 A."""
    patterns = VOCABULARY.scope("panelboard").entries["equipment"].patterns
    found = match_patterns(patterns, words("2A 6 kW"), VOCABULARY)
    assert isinstance(found, Match)
    assert found.values == {"tag": "2A", "amount": Quantity.of(6, "kW")}
    found = match_patterns(patterns, words("2A"), VOCABULARY)
    assert isinstance(found, Match)
    assert found.values == {"amount": Quantity.of(2, "A")}
    found = match_patterns(patterns, words("mca 30 A"), VOCABULARY)
    assert isinstance(found, Match)
    assert found.values == {"mca": Quantity.of(30, "A")}


# --- lines ---------------------------------------------------------------------------------------------------------


def test_modifiers_of_a_line_and_of_a_value() -> None:
    line = lowered_line('existing fed from MSB by utility, 60 ft assumed because "no plan", breaker 100 A by owner')
    assert line.status is not None
    assert line.status.value == "existing"
    assert line.by == "utility"
    length = line.option("length")
    assert length is not None
    assert (length.modifiers.assumed, length.modifiers.reason) == (True, "no plan")
    breaker = line.option("breaker")
    assert breaker is not None
    assert breaker.modifiers.by == "owner"


def test_a_reason_in_a_run_of_its_own_is_the_line_s() -> None:
    fact = to_fact(lowered_line('measured 412 A, 12 months, to 2026-05-31, because "utility bills"'))
    assert fact.reason == "utility bills"
    assert not fact.assumed
    assert fact.options["to"] == {"date": "2026-05-31"}
    assert float(fact.options["period"]["period"]) == pytest.approx(12 * 2_629_800)  # type: ignore[arg-type]


def test_options_in_any_order_and_in_braces_are_the_same() -> None:
    one = lowered_line("fed from MSB, 180 ft, breaker 350 A, LSI, sets 2")
    two = lowered_line("fed from MSB, sets 2 {\n LSI, breaker 350 A\n 180 ft\n}")
    assert {run.entry.name: dict(run.values) for run in one.options} == {
        run.entry.name: dict(run.values) for run in two.options
    }


def test_merged_and_repeated_options() -> None:
    table = FactTable((to_fact(lowered_line("growth load 20 %, poles 25 %")),))
    load, poles = table.amount("growth", "load"), table.amount("growth", "poles")
    assert load is not None
    assert poles is not None
    assert (load.value, poles.value) == (20, 25)
    place = to_fact(lowered_line('place indoor "Hall", dusty, washdown'))
    assert place.options["environment"] == {"where": ("dusty", "washdown")}


def test_positions_after_a_status_and_in_a_feed() -> None:
    assert lowered_line('demolish 12,14 equipment "Kiln" 9 A').positions == (12, 14)
    position = lowered_line("fed from EDP2, 140 ft, position 26,28,30, breaker 100 A").option("position")
    assert position is not None
    assert position.values["position"] == (26, 28, 30)


def test_a_fact_s_text_says_what_was_written() -> None:
    line = lowered_line('equipment RK-1 "Rack 1" 6 kW, 208 V 1-phase x 4')
    assert line.head.shown == 'equipment RK-1 "Rack 1" 6 kW'
    assert line.modifiers.times == 4


# --- mistakes ------------------------------------------------------------------------------------------------------

MISTAKES = [
    ("metring utility", "unknown-word", "metring", "`metering`"),
    ("water heater 4 kW", "unknown-word", "water heater", "`water-heater`"),
    ("subtransient 12 %", "unknown-word", "subtransient", "where it belongs"),
    ("bus 225", "missing-unit", "225", "`225 A`"),
    ("bus 225 amps", "unknown-unit", "amps", "`225 A`"),
    ("bus 225 V", "wrong-dimension", "225 V", "`bus 400 A Cu`"),
    ("bus 225 A copper", "unknown-word", "copper", "`Cu`"),
    ("bus", "missing-value", "bus", "`bus 400 A Cu`"),
    ("bus 225 kA", "out-of-range", "225 kA", "unit"),
    ("bus 225 A, sections 2", "separate-line", "sections 2", "line of its own"),
    ("sccr 65 A", "out-of-range", "65 A", "kA"),
    ("main 225 A", "unnamed-value", "225 A", "`breaker 225 A`"),
    ("main MLO", "unknown-word", "MLO", "`main lugs`"),
    ("main breaker 225 kA", "out-of-range", "225 kA", "unit"),
    ('equipment "Label printer" 3.1 kVA 208 V, 40 ft', "missing-comma", "208 V", "comma"),
    ('hvac "Unit" mca 38 A mocp 50 A', "missing-comma", "mocp 50 A", "comma"),
    ('equipment "Press", 16 A', "unnamed-value", "16 A", 'equipment "Press" 16 A'),
    ('equipment "Press" 16', "missing-unit", "16", "`16 A`"),
    ('equipment "Press" 3 KW', "unknown-unit", "KW", "`3 kW`"),
    ('motor "Fan" 5 hp, 208 V 3phase', "unknown-word", "3phase", "`3-phase`"),
    ('motor "Fan" 5 hp, 3-pole', "poles-written", "3-pole", "take it out"),
    ('motor "Fan" 5 hp, 20 A', "unnamed-value", "20 A", "`breaker 20 A`"),
    ('motor "Fan" 5 hp, 12 AWG', "unnamed-value", "12 AWG", "`phase 12 AWG`"),
    ('motor "Fan" 5 hp, 12 AWG Cu', "unnamed-value", "12 AWG Cu", "`phase 12 AWG, wire Cu`"),
    ('motor "Fan" 5 hp, phase 12 AWG Cu', "unexpected-words", "Cu", "`phase 12 AWG, wire Cu`"),
    ('motor "Fan" 5 hp, neutral 8 AWG aluminum', "unexpected-words", "aluminum", "`neutral 8 AWG, wire Al`"),
    ('motor "Fan" 5 hp, phase 12', "missing-unit", "12", "`12 AWG`"),
    ('motor "Fan" 5 hp, raceway 3/4', "missing-unit", "3/4", "inch"),
    ('motor "Fan" 5 hp, length 40 ft', "unknown-word", "length", "`40 ft`"),
    ('motor "Fan" 5 hp, wire Cu THNN in EMT', "unknown-word", "THNN", "`THHN`"),
    ('motor "Fan" 5 hp, 40 ft, 50 ft', "written-twice", "50 ft", "one of them"),
    ('motor "Fan" 5 hp x 0', "unexpected-words", "0", "x 4"),
    ('lighting "Hall" 1_000 ft2 ofice', "unknown-word", "ofice", "`office`"),
    ('lighting "Hall" 1_000 ft2', "missing-value", 'lighting "Hall" 1_000 ft2', "office"),
    ('lighting "Hall" 1_000 sqft office', "unknown-unit", "sqft", "`1_000 ft2`"),
    ('receptacles "Desks" 8', "missing-value", 'receptacles "Desks" 8', "outlets"),
    ("voltage 240/120 V", "unknown-voltage", "240/120 V", "`120/240 V`, `240/120 V high-leg`"),
    ("voltage 480/277 V", "unknown-voltage", "480/277 V", "`480Y/277 V`"),
    ("growth 20 %", "unnamed-value", "20 %", "`load 20 %` or `poles 20 %`"),
    ("enclosure 3R", "unexpected-words", "3R", "`enclosure Type 3R`"),
    ("place indoor, dustyy", "unknown-word", "dustyy", "`dusty`"),
    ("1,1 lighting 4 kVA", "malformed-position", "1", "once"),
    ("3 bus 225 A", "malformed-position", "3", "before a load"),
    ("motor control center MCC { }", "misplaced-statement", "motor control center", "top of the file"),
    ("room E1 { level 1 }", "misplaced-statement", "room", "top of the file"),
    ("bus 225 A\n    bus 400 A", "written-twice", "bus 400 A", "one of them"),
    ("equipment 4 kVA by me", "unknown-word", "me", "`by utility`"),
    ("equipment 4 kVA assumed", "missing-value", "assumed", "because"),
    ("spare 1-pole 20 A", "unexpected-words", "1-pole 20 A", "`spare 20 A 1-pole x 4`"),
    ("electrode bulding steel, 20 ft", "unknown-word", "bulding", "`building steel`"),
    ('equipment equipment RK "Rack" 4 kVA', "written-twice", "equipment", "take one of them out"),
    ("bus bus 225 A", "written-twice", "bus", "take one of them out"),
    ('equipment motor "Rack" 4 kVA', "malformed-tag", "motor", "take it out"),
    ("bus 225 A x 2", "unexpected-words", "x 2", "`x 4` stands on loads"),
    ("lighting 4 kVA x 2, 40 ft x 3", "written-twice", "lighting 4 kVA x 2, 40 ft x 3", "one of them"),
    ("metering utility, surge device 100 kA", "separate-line", "surge device 100 kA", "line of its own"),
    ('motor "Fan" 5 hp, two-speed', "unknown-word", "two-speed", "`starter two-speed`"),
    ("main breaker, zone interlock", "unknown-word", "zone", "`arc reduction zone interlock`"),
    ('receptacles "Desks" 4 outlets, dedicated', "unknown-word", "dedicated", "multiwire"),
    ('crane "Bay" 10 hp', "unknown-word", "crane", "`motor`"),
    ("fault 30 kA", "unknown-word", "fault", "where it belongs"),
    ("feed from UT, 30 ft", "unknown-word", "feed from", "`fed from`"),
]


@pytest.mark.parametrize(("line", "rule", "marked", "advice"), MISTAKES, ids=[m[0][:40] for m in MISTAKES])
def test_one_slip_one_finding(line: str, rule: str, marked: str, advice: str) -> None:
    text = PANEL.format(line=line)
    reading = read_text(text)
    found = [f for f in reading.findings if f.severity is Severity.ERROR]
    if line.startswith("feed from"):  # read as a second feed, so that the panel is not said to have none
        found = [f for f in found if f.rule != "several-feeds"]
    assert [f.rule for f in found] == [rule], [f.message for f in found]
    span = found[0].span
    assert span is not None
    assert text[span.start : span.end] == marked
    assert advice in f"{found[0].help} {found[0].message}"
    assert reading.model is not None
    known_anyway = rule == "written-twice" and "\n" in line  # one of two good lines is kept
    assert reading.model.items["LP1"].unreadable or known_anyway or "x 3" in line or "50 ft" in line


def test_a_fix_mends_what_it_says() -> None:
    for line in ('equipment "E" 3.1 kVA 208 V 1-phase', 'motor "Fan" 5 HP', "bus 225 amps"):
        text = PANEL.format(line=line)
        finding = next(f for f in read_text(text).findings if f.fix is not None)
        assert finding.fix is not None
        for edit in finding.fix.edits:
            text = text[: edit.span.start] + edit.text + text[edit.span.end :]
        assert not [f for f in read_text(text).findings if f.severity is Severity.ERROR]


def test_words_that_nothing_is_computed_from_are_told_once() -> None:
    uncomputed = [e for e in VOCABULARY.scope("panelboard").entries.values() if not e.computed]
    assert uncomputed, "then take this test and the note out"
    example = uncomputed[0].example
    text = PANEL.format(line=example) + f"panelboard LP2 {{\n fed from UT, 9 ft\n {example}\n}}\n"
    notes = [f for f in read_text(text).findings if f.rule == "not-computed-yet"]
    assert [f.severity for f in notes] == [Severity.NOTE]
    assert "(2 places)" in notes[0].message


ALPHABET = st.sampled_from(
    [*"xX 4,{}\"\n", "20 A", "208 V", "1-phase", "motor", "fed from", "breaker", "because", "assumed", "by utility",
     "x 4", "1,3", "existing", "12 AWG", "LP1", "main", "growth", "load", "%", "20 %", "at", "60 ft", "tie", "or", "/",
     "place"]
)  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(st.lists(ALPHABET, max_size=14))
def test_no_text_brings_lowering_down(pieces: list[str]) -> None:
    """Whatever stands there: findings, never an exception; without a finding of an error everything was read."""
    reading = read_text(PANEL.format(line=" ".join(pieces)))
    errors = [f for f in reading.findings if f.severity is Severity.ERROR]
    if reading.model is not None and not errors:
        assert not reading.model.items["LP1"].unreadable


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 99_999), st.sampled_from(sorted(set(UNITS) - {"%"})))
def test_a_blank_before_the_unit_changes_nothing(number: int, unit: str) -> None:
    with_blank, without = read_quantity(words(f"{number} {unit}"), 0), read_quantity(words(f"{number}{unit}"), 0)
    assert with_blank is not None
    assert without is not None
    assert with_blank.value == without.value


def test_a_head_that_cannot_be_read_keeps_its_tag() -> None:
    """One cause, one finding: what names the gear of a broken head is not told a second time."""
    for head in ('switchboard M "x {', "switchbord M {", "switchboard M 225 A {", 'room" M "x" {'):
        text = f"fedfrom 1\nutility UT {{ voltage 480Y/277 V }}\n{head}\n    fed from UT, 9 ft\n}}\n"
        text += "panelboard P { fed from M, 9 ft }\n"
        found = [f for f in read_text(text).findings if f.severity is Severity.ERROR]
        assert len(found) == 1, (head, [f.message for f in found])
