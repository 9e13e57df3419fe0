"""The canonical layout: what stays, what moves, and that it says the same."""

from __future__ import annotations

import textwrap

import pytest

from fedfrom.editing.formatting import format_text
from fedfrom.editing.verify import difference
from fedfrom.source import SourceFile
from fedfrom.syntax.parse import parse_file


def laid_out(text: str) -> str:
    """The canonical form, which must itself be canonical."""
    done = format_text(SourceFile("test.fed", text))
    assert done.text is not None, done.findings
    again = format_text(SourceFile("test.fed", done.text))
    assert again.text == done.text
    return done.text


def gives(before: str, after: str) -> None:
    assert laid_out(textwrap.dedent(before)) == textwrap.dedent(after)


def test_blank_lines_group_and_no_more() -> None:
    gives(
        """


        fedfrom 1



        panelboard LP1 {

            main lugs


            bus 225 A

        }

        """,
        """\
        fedfrom 1

        panelboard LP1 {
            main        lugs

            bus         225 A
        }
        """,
    )


def test_comments_stay_where_they_are() -> None:
    gives(
        """
        # head


        # of the file
        fedfrom 1 # version
        panelboard LP1 { # three
          # before
          main lugs # the main
            # last
        } # end
        # after
        """,
        """\
        # head

        # of the file
        fedfrom 1                                       # version
        panelboard LP1 {                                # three
            # before
            main        lugs                            # the main
            # last
        }  # end
        # after
        """,
    )


def test_comments_in_brackets_keep_the_lines() -> None:
    gives(
        """
        use F(  # first
        run: 30 ft, # one
              # two
          level: 2
        ) { change A { omit dryer } }
        """,
        """\
        use F(  # first
            run: 30 ft, # one
            # two
            level: 2
        ) { change A { omit dryer } }
        """,
    )


def test_columns_of_a_block() -> None:
    gives(
        """
        panelboard LP1 "Offices" {
        fed from T1, 15 ft
        1 lighting "Packing hall" 2.4 kVA, 95 ft
        2,4 equipment PR-1 "Label printer" 3.1 kVA, 208 V 1-phase, 40 ft
        demolish 12 equipment "Kiln" 9 A
        receptacles 4 outlets, 55 ft
        equipment RK-1, cord B
        future motor "Fan" 5 hp
        spare 20 A 1-pole x 4
        14,16 spare 20 A 2-pole
        }
        """,
        """\
        panelboard LP1 "Offices" {
            fed from    T1, 15 ft
            1           lighting    "Packing hall"          2.4 kVA, 95 ft
            2,4         equipment   PR-1 "Label printer"    3.1 kVA, 208 V 1-phase, 40 ft
            demolish 12 equipment   "Kiln"                  9 A
            receptacles 4 outlets, 55 ft
            equipment   RK-1, cord B
            future motor "Fan"                              5 hp
            spare       20 A 1-pole x 4
            14,16       spare       20 A 2-pole
        }
        """,
    )


@pytest.mark.parametrize(
    ("old", "new"),
    [("15 ft", "11_500 ft"), ("2.4 kVA", "124.55 kVA"), ("40 ft", "4 ft, breaker 20 A"), ("225 A", "1000 A Cu")],
)
def test_a_changed_value_changes_one_line(old: str, new: str) -> None:
    text = """\
panelboard LP1 "Offices" {
    fed from T1, 15 ft
    bus 225 A   # a comment
    lighting "Packing hall" 2.4 kVA, 95 ft
    equipment "Label printer" 3.1 kVA, 208 V 1-phase, 40 ft
}
"""
    before, after = laid_out(text).splitlines(), laid_out(text.replace(old, new)).splitlines()
    assert len(before) == len(after)
    assert sum(a != b for a, b in zip(before, after, strict=True)) == 1


def test_a_longer_neighbour_seldom_moves_others() -> None:
    short = 'panelboard LP1 {\n lighting "Hall" 2 kVA\n motor "Fan" 2 hp\n}\n'
    before = laid_out(short).splitlines()
    after = laid_out(short.replace("}", 'receptacles "Corridors" 5 outlets\n}')).splitlines()
    assert before[:3] == after[:3]


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("bus 225A", "bus         225 A"),
        ("fed from T1,15ft , breaker 100A", "fed from    T1, 15 ft, breaker 100 A"),
        ("fed from 100A, 15ft", "fed from    100A, 15 ft"),
        ("voltage 480Y/277V", "voltage     480Y/277 V"),
        ("fed from T1, phase 3/0AWG, raceway 1-1/4inch", "fed from    T1, phase 3/0 AWG, raceway 1-1/4 inch"),
        ("growth load 20%, poles 25%", "growth      load 20 %, poles 25 %"),
        ("main breaker 400A, 100% rated", "main        breaker 400 A, 100 % rated"),
        ('motor 7M "Fan" 7-1/2hp', 'motor       7M "Fan"        7-1/2 hp'),
        ("fed from T1, position 26, 28,30, meter customer", "fed from    T1, position 26,28,30, meter customer"),
    ],
)
def test_numbers_and_units(before: str, after: str) -> None:
    assert laid_out(f"panelboard LP1 {{\n{before}\n}}\n") == f"panelboard LP1 {{\n    {after}\n}}\n"


def test_a_tag_that_looks_like_a_quantity_stays() -> None:
    assert laid_out('panelboard 100A "x" { }\n') == 'panelboard 100A "x" { }\n'


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("LP-[level-1]", "LP-[level - 1]"),
        ("LP-[ ( 2+level )*3 ]", "LP-[(2 + level) * 3]"),
        ("LP-[-level - -2]", "LP-[-level - -2]"),
        ("LP-[row . unit]", "LP-[row.unit]"),
    ],
)
def test_arithmetic(before: str, after: str) -> None:
    text = "typical F(level, row) {{\n    panelboard {} {{ }}\n}}\n"
    assert laid_out(text.format(before)) == text.format(after)


def test_arithmetic_with_units_and_in_texts() -> None:
    before = 'panelboard A "Level [level+1], [[plain]]" {\nfed from B, [20ft+13 ft*level]\n}\n'
    after = 'panelboard A "Level [level + 1], [[plain]]" {\n    fed from    B, [20 ft + 13 ft * level]\n}\n'
    assert laid_out(before) == after


LONG = "fed from MSB, 180 ft, breaker 350 A, LSI, frame 400 A, sets 2, phase 3/0 AWG, neutral 3/0 AWG, raceway 2 inch"


def test_commas_to_column_100_braces_beyond() -> None:
    gives(
        f"gear DP1 {{\n{LONG}\n}}\n",
        """\
        gear DP1 {
            fed from    MSB, 180 ft {
                breaker 350 A, LSI, frame 400 A
                sets    2
                phase   3/0 AWG
                neutral 3/0 AWG
                raceway 2 inch
            }
        }
        """,
    )


def test_braces_that_are_not_needed_become_commas() -> None:
    gives(
        "gear DP1 {\nfed from MSB, 180 ft {\nbreaker 350 A, LSI\nsets 2\n}\n}\n",
        """\
        gear DP1 {
            fed from    MSB, 180 ft, breaker 350 A, LSI, sets 2
        }
        """,
    )


def test_the_column_decides_to_the_letter() -> None:
    def gear(length: int) -> str:
        return f'gear DP1 {{\n    fed from    MSB, 180 ft, note "{"n" * length}"\n}}\n'

    fits = 100 - len('    fed from    MSB, 180 ft, note ""')
    assert laid_out(gear(fits)) == gear(fits)
    assert laid_out(gear(fits + 1)).count("\n") == 5


def test_stretches_are_lines() -> None:
    gives(
        "gear DP1 {\nfed from MSB, breaker 400 A, run 60 ft in EMT, run 85 ft in EMT on roof, 55 C\n}\n",
        """\
        gear DP1 {
            fed from    MSB {
                breaker 400 A
                run     60 ft in EMT
                run     85 ft in EMT on roof, 55 C
            }
        }
        """,
    )


def test_braces_with_comments_stay() -> None:
    gives(
        "gear DP1 {\nfed from MSB {\nbreaker 350 A # as found\nsets 2\n}\n}\n",
        """\
        gear DP1 {
            fed from    MSB {
                breaker 350 A                           # as found
                sets    2
            }
        }
        """,
    )


def test_the_comment_of_a_broken_line_stays_with_its_head() -> None:
    text = laid_out(f"gear DP1 {{\n{LONG}  # why\n}}\n")
    assert "    fed from    MSB, 180 ft {                   # why\n" in text


def test_a_block_on_one_line_stays_while_it_fits() -> None:
    room = 'room E102 "Utilities electrical" { level 1, size 24 ft x 14 ft, height 12 ft }\n'
    assert laid_out(room) == room
    several = "room E102 {\n    level   1, size 24 ft x 14 ft, height 12 ft\n}\n"
    assert laid_out(several) == several
    long = room.replace("Utilities", "Utilities and other matters of the eastern")
    assert laid_out(long) == (
        'room E102 "Utilities and other matters of the eastern electrical" {\n'
        "    level   1, size 24 ft x 14 ft, height 12 ft\n}\n"
    )


def test_round_brackets() -> None:
    gives("use F(\nrun : 30 ft,\nlevel: 2,\n)\n", "use F(run: 30 ft, level: 2)\n")
    names = ", ".join(f"parameter_{n}: [parameter_{n}]" for n in range(5))
    assert laid_out(f"use F({names})\n").splitlines()[1] == "    parameter_0: [parameter_0],"
    gives("for n in ( 1,2 , 3 ) {\nuse F(n: [n])\n}\n", "for n in (1, 2, 3) {\n    use F(n: [n])\n}\n")
    gives("typical F( a,b=50 ft ) {\n}\n", "typical F(a, b = 50 ft) { }\n")


def test_statements_with_a_shape_of_their_own() -> None:
    gives(
        """
        include   "b.fed"
        accept  drop-branch on LP1.3 ,LP1  "Break room"   because "x"
        expect  fault  at LP1<=10 kA
        for n in 2 .. 4 { use F( n:[n] ) }
        """,
        """\
        include "b.fed"
        accept drop-branch on LP1.3, LP1 "Break room" because "x"
        expect fault at LP1 <= 10 kA
        for n in 2..4 { use F(n: [n]) }
        """,
    )


def test_line_ends_and_the_byte_order_mark() -> None:
    text = "\ufefffedfrom 1\r\n\r\npanelboard A {\r\nbus 225A\r\n}"
    assert laid_out(text) == "fedfrom 1\r\n\r\npanelboard A {\r\n    bus         225 A\r\n}\r\n"
    assert laid_out("") == ""
    assert laid_out("# only this") == "# only this\n"


def test_what_cannot_be_read_is_left_alone() -> None:
    done = format_text(SourceFile("test.fed", "panelboard LP1 {\n bus = 225 A\n}\n"))
    assert done.text is None
    assert [finding.rule for finding in done.findings] == ["equals-sign"] or done.findings


def test_words_that_mean_nothing_stay_as_they_are() -> None:
    text = 'panelboard LP1 {\n    buss        225A\n    motor       "x" 5 kWh\n}\nthing 7\n'
    done = laid_out(text)
    assert "225A" in done
    assert "thing 7" in done


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("panelboard A { bus 225 A }", "panelboard A { bus 250 A }"),
        ("panelboard 100A { }", "panelboard 100 A { }"),
        ("gear A {\nfed from B, sets 2\n}", "gear A {\nfed from B {\nsets 3\n}\n}"),
        ("gear A {\nfed from B, sets 2, phase 3/0 AWG\n}", "gear A {\nfed from B {\nphase 3/0 AWG\n}\n}"),
        ("use F(a: 1)", "use F(a: 2)"),
        ("panelboard A { main lugs }", "panelboard A { }"),
        ("panelboard A { }", "panelboard A"),
        ("for n in 1..2 { use F() }", "for n in 1..3 { use F() }"),
        ('panelboard A "x" { }', "panelboard A x { }"),
    ],
)
def test_the_check_sees_what_changed(before: str, after: str) -> None:
    """The check that every run makes is worth something only if it fails where the texts differ."""
    trees = [parse_file(SourceFile("test.fed", text + "\n")).tree for text in (before, after)]
    assert difference(*trees)
    assert not difference(trees[0], trees[0])
