"""What holds for every expansion: plain text stays as it is, order does not matter, and nothing is ever raised."""

from __future__ import annotations

from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.support.expansion import expanded, plain_text

from fedfrom.findings import Severity
from fedfrom.model.expand import expand
from fedfrom.model.expand_lines import lines_in
from fedfrom.model.expand_project import ParsedProject, project_of_text
from fedfrom.syntax.tree import Accept, Expect, Line, ListValue, Part, Splice, Statement

TYPICALS = """
typical Apt(unit, run = 60 ft) {
    load center A-[unit] { fed from MC-1, [run]
        for k in 1..2 { lighting "Room [k]" [k * 400] VA } }
}
typical Floor(n) {
    use Apt(unit: [n]01)
    use Apt(unit: [n]02, run: [20 ft + 13 ft * n]) { change A-[n]02 { bus 225 A } }
}
"""
LEAN = settings(max_examples=40, deadline=None)
BUILDINGS = st.lists(
    st.sampled_from(
        [
            "for n in 1..3 { use Floor(n: [n]) }",
            "use Apt(unit: 7)",
            'use Apt(unit: 8, run: 90 ft) { change A-8 { lighting "Room 1" 900 VA } }',
            "use Apt(unit: 9) { omit A-9 }",
            "panelboard KP1 { fed from M, 9 ft\n change KE-1 { 60 ft } }",
            'loads from "k.csv" into KP1 { tag "T", name "N", load "kW", kind kitchen }',
            'for r in "k.csv" { panelboard P-[r.T] "[r.N]" { bus 100 A } }',
            "utility UT { voltage 208Y/120 V }",
            "accept drop-branch on KP1.1 because \"letter\"",
            "expect fault at KP1 <= 10 kA",
        ]
    ),
    max_size=6,
    unique=True,
)
TABLE = {"k.csv": "T,N,kW\nKE-1,Oven,12\nKE-2,Kettle,9\n"}


def project(text: str, **files: str) -> ParsedProject:
    return project_of_text(text, "project.fed", {**TABLE, **files})


def has_splice(statements: tuple[Statement, ...]) -> bool:
    def in_part(part: Part) -> bool:
        if isinstance(part, ListValue):
            return any(in_part(inner) for run in part.values for inner in run.parts)
        return any(isinstance(segment, Splice) for segment in part.segments)

    lines = list(lines_in(statements))
    parts = [part for line in lines for run in line.runs for part in (*line.positions, *run.parts)]
    return any(in_part(part) for part in parts)


@LEAN
@given(BUILDINGS)
def test_what_comes_out_is_plain_and_expands_to_itself(building: list[str]) -> None:
    first = expand(project(TYPICALS + "\n".join(building)))
    statements = first.tree.statements
    assert all(isinstance(statement, (Line, Accept, Expect)) for statement in statements)
    assert not has_splice(statements)
    words = {"change", "omit", "loads", "use", "for"}
    assert not any(line.runs[0].parts[0].text in words for line in lines_in(statements))  # type: ignore[union-attr]
    plain = ParsedProject(first.files, "project.fed", {"project.fed": first.tree}, {}, {}, ())
    assert expand(plain).tree == first.tree


@LEAN
@given(BUILDINGS, st.randoms(use_true_random=False))
def test_the_order_of_statements_does_not_matter(building: list[str], random: object) -> None:
    shuffled = list(building)
    random.shuffle(shuffled)  # type: ignore[attr-defined]

    def items(text: list[str]) -> list[str]:
        return sorted(plain_text([s]) for s in expand(project(TYPICALS + "\n".join(text))).tree.statements)

    assert items(building) == items(shuffled)


def test_the_order_of_files_and_typicals_does_not_matter() -> None:
    files = {
        "a.fed": TYPICALS,
        "b.fed": "use Floor(n: 1)\nuse Apt(unit: 7)",
        "c.fed": "for n in 2..3 { use Floor(n: [n]) }",
    }
    results = set()
    for order in permutations(files):
        text = "\n".join(f'include "{name}"' for name in order)
        expansion = expand(project(text, **files))
        assert expansion.findings == ()
        results.add("\n".join(sorted(plain_text([s]) for s in expansion.tree.statements)))
    assert len(results) == 1


def test_the_same_text_gives_the_same_tree_twice() -> None:
    text = TYPICALS + "for n in 1..9 { use Floor(n: [n]) }\n"
    assert expand(project(text)) == expand(project(text))


PIECES = st.lists(
    st.sampled_from(
        [
            "typical", "use", "for", "in", "change", "omit", "loads", "from", "into", "include", "P", "n", "[n]",
            "[n + 1 ft]", "[x.y]", "[1 / 0]", "(", ")", "{", "}", ":", ",", "1..3", "9..1", '"k.csv"', '"[n]"',
            "panelboard", "P-[n]", "bus", "30", "ft", "A", "kitchen", "KE-1", "position", "2,4",
            "breaker", "=", "\n", "\n", "\n",
        ]
    ),
    max_size=40,
)  # fmt: skip


@LEAN
@given(PIECES)
def test_nothing_is_ever_raised(pieces: list[str]) -> None:
    text = " ".join(pieces)
    shown = expanded(TYPICALS + text, TABLE)
    assert not has_splice(shown.expanded.tree.statements)
    unread = [line for line in lines_in(shown.expanded.tree.statements) if line.unreadable]
    assert not unread or any(finding.severity is Severity.ERROR for finding in shown.findings)


FORMS = st.tuples(
    st.sampled_from(["use Apt", "use Floor", "use Nothing", "for n in 1..2 { use Apt"]),
    st.sampled_from(["(unit: 1)", "(unit: [n])", "()", "(n: 2)", "(unit: 1, run: 9)", "(unit: 3 ft)", '(unit: "a b")']),
    st.sampled_from(
        ["", " { change A-1 { bus 1 A } }", " { omit A-1 }", " { change A-101 { omit lighting } }",
         " { change }", " { omit }", ' { change A-1 { lighting "Room 1" 1 kVA } }',
         " { change A-201 { change X { 3 ft } } }", " { bus 2 A }"]
    ),
)  # fmt: skip


@LEAN
@given(st.lists(FORMS, max_size=3))
def test_well_formed_uses_are_never_lost_silently(forms: list[tuple[str, str, str]]) -> None:
    closed = [(head + arguments + block, " }" if head.startswith("for") else "") for head, arguments, block in forms]
    text = "\n".join(statement + end for statement, end in closed)
    shown = expanded(TYPICALS + text, TABLE)
    errors = [finding for finding in shown.findings if finding.severity is Severity.ERROR]
    omitted = sum(block == " { omit A-1 }" for _, _, block in forms)
    made = len(shown.expanded.tree.statements)
    assert errors or made + omitted >= len(forms)


IMPORT = """panelboard KP1 { fed from M, 9 ft }
loads from "k.csv" into KP1 {
    tag "T", name "N", volts "V", phases "P", load "kW", count "Q", position "C", kind kitchen
}
"""
ODD = ["KE 2", "3", "1", "208 V", "480Y/277 V", "1,3,5", "1-3", "4.5", "1,200", '"a', "9 ft", "x", "0", "ü", "\t"]
CELLS = st.sampled_from(["", "-", "KE-1", "208", *ODD])


@LEAN
@given(st.lists(st.lists(CELLS, min_size=7, max_size=8), max_size=4))
def test_a_row_is_read_or_told(rows: list[list[str]]) -> None:
    quoted = [[f'"{cell}"' if "," in cell else cell for cell in row] for row in rows]
    table = "T,N,V,P,kW,Q,C\n" + "".join(",".join(row) + "\n" for row in quoted)
    shown = expanded(IMPORT, {"k.csv": table})
    made = [line for line in lines_in(shown.expanded.tree.statements) if line.span.file == "k.csv"]
    counts = [finding for finding in shown.findings if finding.rule == "csv-count-zero"]
    quotes = [finding for finding in shown.findings if finding.rule == "csv-quote"]
    filled = [row for row in rows if any(cell.strip() for cell in row)]
    assert quotes or len(made) + len(counts) == len(filled)
    failed = [line for line in made if line.unreadable]
    assert not failed or any(finding.severity is Severity.ERROR for finding in shown.findings)
