"""Tables of the project's own: what replaces ours, and what is said of rows that cannot be used."""

from __future__ import annotations

import pytest
from tests.support.texts import Outcome, compiled

from fedfrom.findings import Severity
from fedfrom.model.build_own_tables import edition_of
from fedfrom.model.read import read_text
from fedfrom.tables import load_edition

TEXT = """fedfrom 1
project "Test" {
    code   NEC 2023
    limits "our-limits.csv"
}
utility UT {
    voltage 480Y/277 V
    fault   20 kA at service point, X/R 5
}
gear G1 "Gear" {
    fed from UT, 20 ft
    main     breaker 1600 A, LSIG, arc reduction maintenance switch
    place    indoor "Room"
}
"""
HEAD = "class,attribute,value,severity,source\n"


def with_limits(rows: str, head: str = HEAD) -> Outcome:
    return compiled(TEXT, {"our-limits.csv": head + rows})


def test_own_limits_decide_the_class() -> None:
    assert with_limits("load_center,main_max_a,200,warning,\n").results.gear["G1"].gear_class == "switchboard"
    outcome = with_limits("panelboard,main_max_a,2000,error,Our purchasing standard 4\n")
    assert not outcome.of_rule("own-table")
    gear = outcome.results.gear["G1"]
    assert gear.gear_class == "panelboard"
    measured = next(entry for entry in gear.verdicts[1].measures if entry.criterion == "main_amperes")
    assert (measured.limit, measured.source) == ("2000 A", "Our purchasing standard 4")


def test_a_project_on_one_line_has_its_tables_read() -> None:
    start, end = TEXT.index("project"), TEXT.index("utility")
    text = TEXT[:start] + 'project "Test" { code NEC 2023, limits "our-limits.csv" }\n' + TEXT[end:]
    rows = f"{HEAD}panelboard,main_max_a,2000,error,Ours\n"
    assert compiled(text, {"our-limits.csv": rows}).results.gear["G1"].gear_class == "panelboard"
    assert [finding.rule for finding in compiled(text).of_rule("file-missing")] == ["file-missing"]


def test_an_own_limit_brings_its_own_severity() -> None:
    text = TEXT.replace("gear G1", "panelboard G1")
    for severity, expected in (("warning", Severity.WARNING), ("error", Severity.ERROR)):
        outcome = compiled(text, {"our-limits.csv": f"{HEAD}panelboard,main_max_a,1000,{severity},Ours\n"})
        assert {finding.severity for finding in outcome.of_rule("class-limits")} == {expected}


def test_what_the_file_does_not_name_stays_ours() -> None:
    model = read_text(TEXT, files={"our-limits.csv": f"{HEAD}panelboard,main_max_a,2000,error,\n"}).model
    assert model is not None
    ours = {(row["class"], row["attribute"]): row["value"] for row in load_edition("NEC 2023").rows("gear_classes")}
    own = {(row["class"], row["attribute"]): row["value"] for row in edition_of(model).rows("gear_classes")}
    assert {key for key in ours if ours[key] != own[key]} == {("panelboard", "main_max_a")}
    assert edition_of(model) != load_edition("NEC 2023")  # cached look-ups keep them apart
    assert edition_of(model).rows("ampacity_310_16") == load_edition("NEC 2023").rows("ampacity_310_16")


@pytest.mark.parametrize(
    ("rows", "marked", "says"),
    [
        ("panelboard,main_max_b,2000,error,\n", "main_max_b", "is not known in a table of limits"),
        ("panel,main_max_a,2000,error,\n", "main_max_a", "is not known in a table of limits"),
        ("panelboard,main_max_a,lots,error,\n", "lots", "is not a number"),
        ("panelboard,main_max_a,-5,error,\n", "-5", "is not a number"),
        ("panelboard,main_max_a,2000,severe,\n", "severe", "is not one of"),
        ("panelboard,main_max_a,,error,\n", "panelboard", "is empty"),
    ],
)
def test_a_row_that_cannot_be_used_is_told_at_its_cell(rows: str, marked: str, says: str) -> None:
    outcome = with_limits(rows)
    (finding,) = outcome.of_rule("own-table")
    assert finding.severity is Severity.ERROR
    assert says in finding.message
    assert finding.span is not None
    assert finding.span.file == "our-limits.csv"
    assert (HEAD + rows)[finding.span.start : finding.span.end].startswith(marked)
    assert outcome.results.gear["G1"].gear_class == "switchboard"  # ours stays


def test_a_missing_column_is_told_at_the_line_that_names_the_file() -> None:
    (finding,) = with_limits("panelboard,2000\n", "class,value\n").of_rule("own-table")
    assert "no column `attribute`" in finding.message
    assert finding.span is not None
    assert TEXT[finding.span.start : finding.span.end] == 'limits "our-limits.csv"'


def test_a_file_that_is_not_there() -> None:
    outcome = compiled(TEXT)
    assert len(outcome.of_rule("file-missing")) == 1
    assert outcome.results.gear["G1"].gear_class == "switchboard"
