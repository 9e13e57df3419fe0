"""What is kept of a file with mistakes in it, and what its braces are taken to mean."""

from __future__ import annotations

import pytest
from tests.unit.syntax.shape import shape

from fedfrom.source import SourceFile
from fedfrom.syntax.parse import parse_file
from fedfrom.syntax.tree import Line


def parsed(text: str) -> tuple[str, list[str]]:
    result = parse_file(SourceFile("test.fed", text))
    return shape(result.tree), [finding.message for finding in result.findings]


KEPT = [
    # what stands before a mistake is kept, marked; what stands around it is read as ever
    ("a\nfed from MSB, 180 ft; x\nb", "line(a); !line(fed from MSB|180 ft); line(b)"),
    ('panelboard LP1 "Offices {\n  main lugs\n}', "!line(panelboard LP1){line(main lugs)}"),
    ('1,3 motor M-1 "Fan 5 hp\n', "!line(1,3@motor M-1)"),
    ("new 2,4 equipment K-1 9 A ?", "!line(2,4@new equipment K-1 9 A)"),
    ("panelboard LP-[n +] { a }", "!line(panelboard){line(a)}"),
    # where the repair is certain enough, it is what is kept
    ("bus = 225 A", "!line(bus 225 A)"),
    ("panelboard LP-{n} { a }", "!line(panelboard LP-<n>){line(a)}"),
    ("use F(level = 7)", "use(F|level:7)"),
    ("fro n in 1..2 { a }", "for(n|1..2){line(a)}"),
    ("typical F(a, run: 3) { b }", "typical(F|a,run=3){line(b)}"),
    ("typical F(a, b { c }", "typical(F|a,b){line(c)}"),
    ('loads from "k.csv" into K {\n load "kW";\n}', '!line(load "kW")'),
    # a line that cannot be meant as it reads
    ("lighting 11,500 ft2 office", "!line(lighting 11_500 ft2 office)"),
    # what a broken `for` would bind is not known: its lines say nothing
    ("for n (1, 2) { panelboard LP-[n] { } }", "!line(for){}"),
    # braces
    ("a {\n  b\nc {\n  d\n}", "line(a){line(b)}; line(c){line(d)}"),
    ("a {\n  b {\n    c\n  d\n}", "line(a){line(b){line(c)}; line(d)}"),
    ("a\n  b\n  c\n}\nd {\n  e\n}", "line(a){line(b); line(c)}; line(d){line(e)}"),
    ("a {\n  b {\n  c\n}\nd {\n  e\n}", "line(a){line(b); line(c)}; line(d){line(e)}"),
    ("a {\n  b\n  }\n  c\n}\nd {\n  e\n}", "line(a){line(b); line(c)}; line(d){line(e)}"),
    ("a\n{\n  b\n}", "line(a){line(b)}"),
    # characters are replaced by what they stand for
    ("panelboard LP1 “Offices” { }", 'line(panelboard LP1 "Offices"){}'),
    ("motor M–1 5 hp", "line(motor M-1 5 hp)"),
    ("motor M-1\u00a05 hp", "line(motor M-1 5 hp)"),
    ("ambient 35 °C", "line(ambient 35 C)"),
    ("area 5 ft²", "line(area 5 ft2)"),
    ("motor 1½ hp", "!line(motor 1 hp)"),
    ("a\rb", "line(a); line(b)"),
]


@pytest.mark.parametrize(("text", "kept"), KEPT, ids=[repr(text)[:50] for text, _ in KEPT])
def test_kept(text: str, kept: str) -> None:
    tree, messages = parsed(text)
    assert len(messages) == 1, messages
    assert kept in tree


def test_an_unreadable_line_spans_the_whole_statement() -> None:
    text = "a\n  fed from MSB, 180 ft; more words # c\nb\n"
    line = parse_file(SourceFile("test.fed", text)).tree.statements[1]
    assert isinstance(line, Line)
    assert line.unreadable
    assert text[line.span.start : line.span.end] == "fed from MSB, 180 ft; more words"


def test_subject_is_the_thing_around() -> None:
    text = "panelboard LP-[n] {\n  fed from MSB {\n    sets = 2\n  }\n}\nbus = 225 A\n"
    found = parse_file(SourceFile("test.fed", text)).findings
    assert [finding.subject for finding in found] == ["panelboard LP-[n]", "bus"]


def test_findings_come_in_order_of_place() -> None:
    text = "a = 1\nb {\n  c;\nd {\n e\n}\n“f”\n"
    starts = [f.span.start for f in parse_file(SourceFile("test.fed", text)).findings if f.span]
    assert len(starts) == 4
    assert starts == sorted(starts)


GOOD = "panelboard {0} {{\n    main lugs\n    bus 225 A\n    1 lighting 2 kVA {{\n        sets 2\n    }}\n}}\n"


@pytest.mark.parametrize("slip", ["main lugs", "bus 225 A", "sets 2"])
def test_a_slip_in_each_of_many_blocks(slip: str) -> None:
    """A hundred mistakes of one kind: each told once."""
    text = "".join(GOOD.format(f"LP{n}") for n in range(100)).replace(slip, slip + ";")
    assert parsed(text)[1] == ["`;` does not end a statement"] * 100


def test_a_badly_indented_but_balanced_file_gets_no_brace_findings() -> None:
    text = "a {\nb {\n      c\n  d\n    }\n}\n   e {\nf\n}\ng = 1\n"
    assert parsed(text)[1] == ["`=` does not stand between a name and its value"]


def test_one_flat_block_in_an_indented_file() -> None:
    """Its indentation is no evidence; the brace that is really missing is still found where it is missing."""
    good = GOOD.format("A") + GOOD.format("B") + GOOD.format("C")
    flat = "panelboard D {\nmain lugs\nbus 225 A\n}\n"
    broken = "panelboard E {\n    main lugs\n"
    text = good + flat + broken + GOOD.format("F")
    found = parse_file(SourceFile("test.fed", text)).findings
    assert [(f.message, f.subject) for f in found] == [("the block is not closed", "panelboard E")]
