"""`typical`, `use`, `for`, `include`: what comes out, and every way in which they are refused."""

from __future__ import annotations

from textwrap import dedent

import pytest
from tests.support.expansion import expanded

from fedfrom.findings import Severity
from fedfrom.model import expand_size

FLOORS = """
    fedfrom 1
    typical FloorPanel(level, run = 50 ft) {
        panelboard LP-[level] "Level [level]" {
            fed from MSB, [run]
            lighting "Level [level]" 11_500 ft2 office, [10 * level] ft
        }
    }
"""


def test_a_typical_is_written_out_for_each_turn() -> None:
    shown = expanded(FLOORS + "    for n in 2..3 { use FloorPanel(level: [n], run: [20 ft + 13 ft * n]) }\n")
    assert shown.findings == ()
    assert shown.text == dedent("""\
        panelboard LP-2 "Level 2" {
          fed from MSB, 46 ft
          lighting "Level 2" 11_500 ft2 office, 20 ft
        }
        panelboard LP-3 "Level 3" {
          fed from MSB, 59 ft
          lighting "Level 3" 11_500 ft2 office, 30 ft
        }""")


def test_a_default_is_taken_where_nothing_is_given() -> None:
    shown = expanded(FLOORS + "    use FloorPanel(level: 4)\n")
    assert "fed from MSB, 50 ft" in shown.text


def test_every_line_says_how_it_came() -> None:
    shown = expanded(FLOORS + "    for n in 7..7 { use FloorPanel(level: [n], run: 111 ft) }\n")
    trail = shown.line("lighting").trail
    assert [site.text for site in trail] == ["for n 7", "in FloorPanel, level 7, run 111 ft"]
    assert [shown.marked(site.span) for site in trail] == ["for n in 7..7", "use FloorPanel(level: [n], run: 111 ft)"]
    assert shown.marked(shown.line("lighting").span).startswith('lighting "Level [level]"')


def test_typicals_may_use_others_and_stand_anywhere_in_the_project() -> None:
    shown = expanded(
        """
        use Wing(w: N)
        typical Wing(w) { for n in 1..2 { use Panel(tag: LP-[w][n]) } }
        include "panel.fed"
        """,
        {"panel.fed": 'typical Panel(tag) { panelboard [tag] "In [tag]" }'},
    )
    assert shown.findings == ()
    assert shown.text == 'panelboard LP-N1 "In LP-N1"\npanelboard LP-N2 "In LP-N2"'
    assert shown.line("panelboard LP-N2").trail[2].text == "in Panel, tag LP-N2"


def test_use_and_for_stand_inside_gear_too() -> None:
    shown = expanded("""
        typical Pair(n) {
            [n],[n + 2] receptacles "Room [n]" 8 outlets, 60 ft
            lighting "Room [n]" [n / 2] kVA
        }
        panelboard LP1 {
            fed from MSB, 20 ft
            use Pair(n: 1)
            for n in (5, 9) { [n] equipment "Rack [n]" 2 kVA }
            bus 225 A
        }
    """)
    assert shown.findings == ()
    assert shown.text == dedent("""\
        panelboard LP1 {
          fed from MSB, 20 ft
          1,3 receptacles "Room 1" 8 outlets, 60 ft
          lighting "Room 1" 0.5 kVA
          5 equipment "Rack 5" 2 kVA
          9 equipment "Rack 9" 2 kVA
          bus 225 A
        }""")


@pytest.mark.parametrize(
    ("value", "made"),
    [
        ("012", "A-012"),  # as written: a room list keeps its zeros
        ("2A", "A-2A"),  # a name in a tag, whatever it would be elsewhere
        ("N", "A-N"),
        ('"N"', "A-N"),
        ("1_180", "A-1180"),
    ],
)
def test_a_value_in_a_tag_stands_as_it_is_written(value: str, made: str) -> None:
    shown = expanded(f"typical P(u) {{ panelboard A-[u] }}\nuse P(u: {value})")
    assert shown.text == f"panelboard {made}"


def test_a_value_of_several_words_stands_as_these_words() -> None:
    shown = expanded("""
        typical P(system, size, title) {
            panelboard P1 [title] {
                voltage [system]
                fed from MSB, 20 ft, phase [size], breaker [40 A * 2]
            }
        }
        use P(system: 480Y/277 V, size: 3/0 AWG, title: "Pumps")
    """)
    assert shown.findings == ()
    assert shown.text == dedent("""\
        panelboard P1 "Pumps" {
          voltage 480Y/277 V
          fed from MSB, 20 ft, phase 3/0 AWG, breaker 80 A
        }""")


def test_a_computed_value_stays_exact_on_its_way() -> None:
    shown = expanded("""
        typical P(third) { panelboard P1 { fed from MSB, [third * 3] ft } }
        use P(third: [100 / 3])
    """)
    assert "fed from MSB, 100 ft" in shown.text


def test_a_range_with_zeros_keeps_them() -> None:
    assert expanded("for n in 08..10 { panelboard P-[n] }").text == "panelboard P-08\npanelboard P-09\npanelboard P-10"


def test_accept_and_expect_in_a_typical() -> None:
    shown = expanded("""
        typical P(n) {
            panelboard P[n]
            accept drop-branch on P[n].3, P[n] "Room [n]" because "letter [n]"
            expect fault at P[n] <= [n * 5] kA
        }
        use P(n: 2)
    """)
    assert shown.text == dedent("""\
        panelboard P2
        accept drop-branch on P2.3, P2 "Room 2" because "letter 2"
        expect fault at P2 <= 10 kA""")


def test_names_inside_a_typical_are_its_parameters_alone() -> None:
    finding = expanded("""
        typical P(n) { panelboard P[n] { fed from MSB, [k] ft } }
        for k in 1..3 { use P(n: [k]) }
    """).only("unknown-parameter")
    assert finding.help == "here there is `n`"


# --- the four cases of a unit after brackets ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("body", "given", "made"),
    [
        ("[run] ft", "30", "30 ft"),
        ("[run]", "30 ft", "30 ft"),
        ("[run]", "30ft", "30ft"),
        ("[run]ft", "30", "30ft"),
    ],
)
def test_a_number_wants_its_unit_and_a_length_has_it(body: str, given: str, made: str) -> None:
    shown = expanded(f"typical P(run) {{ panelboard P1 {{ fed from MSB, {body} }} }}\nuse P(run: {given})")
    assert shown.findings == ()
    assert f"fed from MSB, {made}" in shown.text


@pytest.mark.parametrize(
    ("body", "given", "message"),
    [
        ("[run] ft", "30 ft", "`30 ft` has its unit, and `ft` follows"),
        ("[run]", "30", "`30` is a plain number, and a quantity is needed here"),
        ("[run]ft", "30 ft", "`30 ft` has a unit and cannot be part of a word"),
    ],
)
def test_the_other_cases_are_findings(body: str, given: str, message: str) -> None:
    shown = expanded(f"typical P(run) {{ panelboard P1 {{ fed from MSB, {body} }} }}\nuse P(run: {given})")
    finding = shown.findings[0]
    assert (len(shown.findings), finding.message) == (1, message)
    assert shown.line("fed from").unreadable
    assert shown.marked(finding.related[0].span) == given


def test_further_positions_are_plain_numbers() -> None:
    shown = expanded("typical P(a, b) { panelboard P1 { fed from M, position [a],[b], 9 ft } }\nuse P(a: 1, b: 3)")
    assert shown.findings == ()
    assert "fed from M, position 1, 3, 9 ft" in shown.text


# --- findings -------------------------------------------------------------------------------------------------------

ONE_FINDING = [
    # rule, letters marked, words of the help or message
    ("use FloorPanle(level: 1)", "unknown-typical", "FloorPanle", "`FloorPanel` is close"),
    ("use FloorPanel(run: 3 ft)", "missing-argument", "FloorPanel", "write `level: …`"),
    ("use FloorPanel(levl: 3)", "unknown-argument", "levl", "`level` is close"),
    ("use FloorPanel(level: 3, size: 2)", "unknown-argument", "size", "it has `level` and `run`"),
    ("use FloorPanel(level: 3, level: 4)", "argument-twice", "level", "leave one out"),
    ("use FloorPanel(level: [leval])", "unknown-parameter", "leval", "there are none here"),
    ("use FloorPanel(level: (1, 2))", "value-is-list", "(1, 2)", "a `for` goes over a list"),
    ("use FloorPanel(level: -1)", "splice-word", "LP-[level]", "not a word"),
    ("use FloorPanel(level: North wing)", "splice-word", "[level]", "more than one word"),
    ("use FloorPanel(level: N)", "not-a-number", "level", "`level` is `N`, not a number"),
    ("use FloorPanel(level: [1 / 3])", "splice-word", "[level]", "no end as a decimal"),
    ("for n in 5..2 { panelboard P[n] }", "range-empty", "5..2", "write `2..5`"),
    ("for n in a..3 { panelboard P[n] }", "range-number", "a", "whole number"),
    ("for n in 1..2.5 { panelboard P[n] }", "range-number", "2.5", "whole number"),
    ("for n in () { panelboard P[n] }", "range-empty", "()", "makes nothing"),
    ("for n in (1, 2, 1) { panelboard P[n] }", "list-twice", "1", "leave one out"),
    ("for n in 1..1001 { panelboard P[n] }", "too-many-turns", "1..1001", "1000 is the most"),
    ("for n in 1..99999999999999999999 { panelboard P[n] }", "range-number", "99999999999999999999", "sensible"),
    ("for ft in 1..2 { panelboard P[ft] }", "name-is-unit", "ft", "no unit"),
    ("for AWG in 1..2 { panelboard P1 }", "name-is-unit", "AWG", "no unit"),
    ("for n in 1..2 { for n in 1..2 { panelboard P[n] } }", "name-hidden", "n", "another name"),
    ("for n-1 in 1..2 { panelboard P1 }", "parameter-name", "n-1", "letters"),
    ("typical P(n, n) { panelboard P[n] }\n    use P(n: 1)", "name-hidden", "n", "another name"),
    ("typical P(m = 2, kVA = 3) { panelboard P[m] }", "name-is-unit", "m", "no unit"),
    ("panelboard X { typical P(n) { bus 1 A } }", "not-at-top-level", "P", "top level"),
    ('panelboard X { include "a.fed" }', "not-at-top-level", 'include "a.fed"', "move it out"),
    ('panelboard X { accept a on X because "b" }', "not-at-top-level", 'accept a on X because "b"', "move it out"),
    ("panelboard X { expect fault at X <= 1 kA }", "not-at-top-level", "expect fault at X <= 1 kA", "move it out"),
    ("panelboard P1 { [1 / 2] lighting 400 VA }", "splice-position", "[1 / 2]", "whole numbers from 1"),
    ("panelboard P1 { fed from M, [20 + 3 ft] }", "arithmetic-dimension", "20 + 3 ft", "give the number its unit"),
    ("typical FloorPanel() { bus 1 A }", "typical-twice", "FloorPanel", "another name"),
    ('include "[n].fed"', "file-path", '"[n].fed"', "name the file"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "rule", "letters", "words"), ONE_FINDING, ids=[row[0][:40] for row in ONE_FINDING])
def test_one_cause_one_finding(text: str, rule: str, letters: str, words: str) -> None:
    shown = expanded(FLOORS + "    use FloorPanel(level: 20)\n    " + text + "\n")
    relevant = [finding for finding in shown.findings if finding.rule != "typical-not-used"]
    if rule == "name-is-unit" and "typical P" in text:
        relevant = relevant[:1]
    assert [finding.rule for finding in relevant] == [rule], [finding.message for finding in relevant]
    finding = relevant[0]
    assert finding.severity is Severity.ERROR
    assert shown.marked(finding.span) == letters
    assert words in finding.message + finding.help


def test_a_fault_in_a_typical_is_said_once_however_often_it_is_used() -> None:
    shown = expanded("typical P(n) { panelboard P[n] { fed from M, [lenth] ft } }\nfor k in 1..50 { use P(n: [k]) }")
    finding = shown.only("unknown-parameter")
    assert shown.marked(finding.span) == "lenth"


def test_a_fault_in_a_typical_is_said_when_nothing_uses_it() -> None:
    shown = expanded("typical P(n) { panelboard P[m] }")
    assert sorted(shown.rules) == ["typical-not-used", "unknown-parameter"]


def test_a_name_inside_a_text_is_marked_to_the_letter() -> None:
    text = 'typical P(level) {\r\n    panelboard P1 "Floor \\"[leval + 1]\\" of [level]"\r\n}\r\nuse P(level: 1)\r\n'
    shown = expanded(text)
    assert shown.marked(shown.only("unknown-parameter").span) == "leval"


def test_a_circle_of_typicals_is_named_in_full() -> None:
    shown = expanded("""
        typical A(n) { use B(n: [n]) }
        typical B(n) { panelboard B[n] { use C(n: [n]) } }
        typical C(n) { for k in 1..2 { use A(n: [n]) } }
        use A(n: 1)
    """)
    finding = shown.only("typical-circle")
    assert finding.message == "the typical `A` uses itself: A → B → C → A"
    assert shown.text == ""


def test_a_typical_that_uses_itself() -> None:
    finding = expanded("typical A(n) { use A(n: [n + 1]) }\nuse A(n: 1)").only("typical-circle")
    assert finding.message == "the typical `A` uses itself: A → A"


def test_a_plain_word_that_reads_like_a_parameter_gets_a_note() -> None:
    shown = expanded("""
        typical P(level, run) { panelboard P1 { fed from level, [run] ft } }
        for run in 1..1 { use P(level: run, run: [run]) }
    """)
    assert shown.rules == ["plain-parameter", "plain-parameter"]
    assert [shown.marked(finding.span) for finding in shown.findings] == ["level", "run"]
    assert shown.findings[0].severity is Severity.NOTE


def test_a_word_of_the_language_is_no_plain_parameter() -> None:
    shown = expanded("typical P(run) { panelboard P1 { fed from M { run [run] ft in EMT } } }\nuse P(run: 3)")
    assert shown.findings == ()


def test_what_could_not_be_made_is_not_silently_missing() -> None:
    shown = expanded("panelboard P1 { for n in 3..1 { lighting 400 VA } }")
    assert shown.expanded.incomplete
    assert shown.text == "panelboard P1 {\n  n  # unreadable\n}"


def test_the_root_file_alone_has_version_and_project() -> None:
    shown = expanded('include "b.fed"', {"b.fed": 'fedfrom 1\nproject "X" { number "1" }\n'})
    assert shown.rules == ["not-in-root", "not-in-root"]


def test_an_unknown_version() -> None:
    assert expanded("fedfrom 2").only("version-unknown").help == "write `fedfrom 1`"


# --- limits ---------------------------------------------------------------------------------------------------------


def test_the_size_is_counted_before_anything_is_expanded() -> None:
    shown = expanded("for a in 1..1000 { for b in 1..1000 { for c in 1..1000 { panelboard P[a]-[b]-[c] } } }")
    finding = shown.only("too-many-statements")
    assert shown.marked(finding.span) == "for a in 1..1000"
    assert shown.text == ""


def test_empty_turns_count_too() -> None:
    assert expanded("for a in 1..1000 { for b in 1..1000 { } }").rules == ["too-many-statements"]


def test_a_range_that_depends_on_a_value_is_stopped_on_the_way(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("fedfrom.model.expand.MOST_STATEMENTS", 500)
    shown = expanded("typical P(n) { for a in 1..[n] { panelboard P[a] } }\nfor k in 1..900 { use P(n: [k]) }")
    assert shown.rules == ["too-many-statements"]
    assert len(shown.text.splitlines()) <= 500


def test_limits_are_those_of_the_language() -> None:
    assert (expand_size.MOST_TURNS, expand_size.MOST_BLOCKS, expand_size.MOST_STATEMENTS) == (1_000, 32, 100_000)


def test_typicals_inside_typicals_are_bounded_in_depth() -> None:
    chain = "\n".join(f"typical T{n}(x) {{ use T{n + 1}(x: [x]) }}" for n in range(60))
    shown = expanded(f"{chain}\ntypical T60(x) {{ panelboard P[x] }}\nuse T0(x: 1)")
    assert shown.rules == ["too-deep"]


def test_a_thousand_turns_are_allowed() -> None:
    assert len(expanded("for n in 1..1000 { panelboard P[n] }").text.splitlines()) == 1000
