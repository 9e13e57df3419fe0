"""What is read, and as what. `shape` shows a tree in one line; `@` ends the positions, `|` stands between facts."""

from __future__ import annotations

import pytest
from tests.unit.syntax.shape import shape

from fedfrom.source import SourceFile
from fedfrom.syntax.parse import parse_file

ACCEPTED = [
    # words: tags, names, numbers, sizes, systems are one kind of token
    ("panelboard 4HA", "line(panelboard 4HA)"),
    ("panelboard LP-2A { }", "line(panelboard LP-2A){}"),
    ("panelboard 12", "line(panelboard 12)"),
    ("wire Cu THHN/THWN-2 in EMT", "line(wire Cu THHN/THWN-2 in EMT)"),
    ("phase 3/0 AWG", "line(phase 3/0 AWG)"),
    ("voltage 480Y/277 V", "line(voltage 480Y/277 V)"),
    ("voltage 240/120 V high-leg", "line(voltage 240/120 V high-leg)"),
    ("bus 100A", "line(bus 100A)"),
    ("main breaker 400 A, 100 % rated, 20%", "line(main breaker 400 A|100 % rated|20%)"),
    ('motor "Pump" 7-1/2 hp', 'line(motor "Pump" 7-1/2 hp)'),
    ("ambient -10 C", "line(ambient -10 C)"),
    ("growth load 20 -13", "line(growth load 20 -13)"),
    ("area 18_500 ft2, density 3.5 VA/ft2", "line(area 18_500 ft2|density 3.5 VA/ft2)"),
    ("fault 10.5 kA, X/R 8", "line(fault 10.5 kA|X/R 8)"),
    ("to 2026-05-31", "line(to 2026-05-31)"),
    ("rating 1_000.5 kVA", "line(rating 1_000.5 kVA)"),
    ("interlock key, at most 2 of MSB-A.main, TIE", "line(interlock key|at most 2 of MSB-A.main|TIE)"),
    ("noncoincident AC-1, AC-2 or UH-1", "line(noncoincident AC-1|AC-2 or UH-1)"),
    # positions
    ('1 lighting "Hall" 2 kVA', 'line(1@lighting "Hall" 2 kVA)'),
    ('1,3,5 motor "Fan" 5 hp x 4', 'line(1,3,5@motor "Fan" 5 hp x 4)'),
    ("new 2,4 equipment 9 A", "line(2,4@new equipment 9 A)"),
    ("demolish 12 equipment 9 A", "line(12@demolish equipment 9 A)"),
    ("existing 400 A", "line(400@existing A)"),
    ("[n],[n + 2] receptacles 3 outlets", "line(<n>,<(n+2)>@receptacles 3 outlets)"),
    ("fed from EDP2, position 26,28,30, breaker 100 A", "line(fed from EDP2|position 26|28|30|breaker 100 A)"),
    ("demolish at 60 ft equipment 9 A", "line(demolish at 60 ft equipment 9 A)"),
    ("space 6", "line(space 6)"),
    ("spare 20 A 1-pole x 4", "line(spare 20 A 1-pole x 4)"),
    # texts
    (r'room E1 "say \"no\" \\ yes"', r'line(room E1 "say "no" \ yes")'),
    ('room E1 "[[a]] # { } ; = : 4\'"', 'line(room E1 "[a] # { } ; = : 4\'")'),
    ('room E1 "Level [level + 1] of [top]"', 'line(room E1 "Level <(level+1)> of <top>")'),
    ('room E1 ""', 'line(room E1 "")'),
    ('room E1 "Größe 5 m², – “x”"', 'line(room E1 "Größe 5 m², – “x”")'),
    # splices in words
    ("panelboard LP-[level]", "line(panelboard LP-<level>)"),
    ("panelboard [a]-[b].x", "line(panelboard <a>-<b>.x)"),
    ("fed from [row.source], [20 + 13 * level] ft", "line(fed from <row.source>|<(20+(13*level))> ft)"),
    # blocks
    ("a { }", "line(a){}"),
    ("a{}", "line(a){}"),
    ("a {b}", "line(a){line(b)}"),
    ("a { b\n c }", "line(a){line(b); line(c)}"),
    ("a {\n\n  b # x\n\n  c\n\n}", "line(a){line(b); line(c)}"),
    ("a { b { c { d } } }", "line(a){line(b){line(c){line(d)}}}"),
    ("a { # 3 things\n b }", "line(a){line(b)}"),
    ("a { }\n\nb { }", "line(a){}; line(b){}"),
    # lists and brackets over several lines
    ("phases (A, B)", "line(phases (A,B))"),
    ("phases (\n  A,\n  B,\n)", "line(phases (A,B))"),
    ("phases ( A,\n  (B, C) )", "line(phases (A,(B,C)))"),
    ("phases ()", "line(phases ())"),
    # the seven statements
    ("fedfrom 1", "version(1)"),
    ('include "sub/risers.fed"', 'include("sub/risers.fed")'),
    ("typical F() { a }", "typical(F|){line(a)}"),
    ('typical F(level, run = 20 ft, name = "x") { a }', 'typical(F|level,run=20 ft,name="x"){line(a)}'),
    ("typical F(\n  level,  # the floor\n  run,\n) { a }", "typical(F|level,run){line(a)}"),
    ("for n in 2..12 { a }", "for(n|2..12){line(a)}"),
    ("for n in [a]..[b + 1] { a }", "for(n|<a>..<(b+1)>){line(a)}"),
    ('for n in (A, 2, "x y") { a }', 'for(n|(A,2,"x y")){line(a)}'),
    ('for row in "units.csv" { a }', 'for(row|"units.csv"){line(a)}'),
    ("use F()", "use(F|)"),
    ("use F(level: [level], run: 20 ft,)", "use(F|level:<level>,run:20 ft)"),
    ("use F(\n  n: 7,\n  run: [2 ft + 3 ft]\n) { a { b } }", "use(F|n:7,run:<(2ft+3ft)>){line(a){line(b)}}"),
    ('accept drop-branch on LP1.3 because "x"', 'accept(drop-branch|LP1.3|"x")'),
    ('accept r on LP1 "Break room", LP2 because "x"', 'accept(r|LP1 "Break room",LP2|"x")'),
    ("expect fault at LP1 <= 10 kA", "expect(fault at LP1 <= 10 kA)"),
    ("expect class at MSB = switchboard", "expect(class at MSB = switchboard)"),
    ("expect a != b", "expect(a != b)"),
    ("expect a>=[x]", "expect(a >= <x>)"),
    # reserved words are reserved only where they can stand
    ("fed from for, 3 ft", "line(fed from for|3 ft)"),
    ("accept accept on on because \"because\"", 'accept(accept|on|"because")'),
    ("for in in 1..2 { use use() }", "for(in|1..2){use(use|)}"),
    ("fed from use, in expect", "line(fed from use|in expect)"),
    ("form x", "line(form x)"),
    ("use-group B", "line(use-group B)"),
    ("for-hire x", "line(for-hire x)"),
    ("included x", "line(included x)"),
    ("because x", "line(because x)"),
    ("in x", "line(in x)"),
    # line ends, comments, blanks
    ("a\r\nb\r\n", "line(a); line(b)"),
    ("\ufeffa", "line(a)"),
    ("\ta\t1\t,\t2\t", "line(a 1|2)"),
    ("a # to the end { ( \" [", "line(a)"),
    ("#2,4 equipment 9 A\na", "line(a)"),
    ("a\n  #12 is a comment\nb", "line(a); line(b)"),
    ("# only a comment", ""),
    ("", ""),
    ("\n\n  \n", ""),
    ("a", "line(a)"),
    ('a,b ,c , "d"', 'line(a|b|c|"d")'),
]


@pytest.mark.parametrize(("text", "wanted"), ACCEPTED, ids=[repr(text) for text, _ in ACCEPTED])
def test_accepted(text: str, wanted: str) -> None:
    parsed = parse_file(SourceFile("test.fed", text))
    assert parsed.findings == ()
    assert shape(parsed.tree) == wanted


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("[1]", "1"), ("[1_000.5]", "1000.5"), ("[20 ft]", "20ft"), ("[20ft]", "20ft"), ("[2 %]", "2%"),
        ("[level-1]", "(level-1)"), ("[level - 1]", "(level-1)"), ("[level -1]", "(level-1)"),
        ("[a + b * c]", "(a+(b*c))"), ("[(a + b) * c]", "((a+b)*c)"), ("[a - b - c]", "((a-b)-c)"),
        ("[a / b / c]", "((a/b)/c)"), ("[-a * b]", "((-a)*b)"), ("[--a]", "(-(-a))"), ("[-(a)]", "(-a)"),
        ("[row.unit + 1]", "(row.unit+1)"), ("[3 VA/ft2 * area]", "(3VA/ft2*area)"), ("[12 m * 2]", "(12m*2)"),
        ("[ a ]", "a"), ("[a_b2]", "a_b2"), ("[((a))]", "a"),
    ],
)  # fmt: skip
def test_arithmetic(text: str, wanted: str) -> None:
    parsed = parse_file(SourceFile("test.fed", f"length {text}"))
    assert parsed.findings == ()
    assert shape(parsed.tree) == f"line(length <{wanted}>)"
