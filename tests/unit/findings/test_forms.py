"""The machine forms of findings: valid by their own standards, with exact places."""

from __future__ import annotations

import json
from pathlib import Path
from xml.etree import ElementTree

import jsonschema
import pytest

from fedfrom.findings import Edit, Finding, Fix, Label, Severity
from fedfrom.findings.case import Case
from fedfrom.findings.render import forms, render_findings
from fedfrom.source import SourceFile, Span

# source: OASIS, SARIF 2.1.0 with errata 01, the schema that is published with the standard.
SARIF_SCHEMA = Path(__file__).parents[2] / "support" / "schemas" / "sarif-2.1.0.json"

TEXT = 'fedfrom 1\r\n# Grüße, 図, 𝄞\r\n\tpanel "𝄞 Ä" MSV\r\nend\r\n'
NAME = "halle ß/plant 1.fed"
FILES = {NAME: SourceFile(NAME, TEXT)}


def span(part: str, end: str = "") -> Span:
    start = TEXT.index(part)
    return Span(NAME, start, TEXT.index(end) + len(end) if end else start + len(part))


FINDINGS = (
    Finding("unknown-tag", Severity.ERROR, "MSV", "nothing is tagged `MSV`", span("MSV"), "not found",
            (Label(span("panel"), "used here"),), ("a note, 50 %: yes",), "write MSB\nor MSC", "NEC 2023, 110.9",
            Fix("write MSB", (Edit(span("MSV"), "MSB"),), True)),
    Finding("drop-feeder", Severity.WARNING, "LP1", "two lines", span("MSV", "end")),
    Finding("length-missing", Severity.NOT_CHECKED, "LP2", "needs a length", None),
    Finding("phase-balance", Severity.NOTE, "LP3", "uneven", Span("gone.fed", 3, 4)),
)  # fmt: skip


def test_sarif_is_valid_by_the_published_schema() -> None:
    schema = json.loads(SARIF_SCHEMA.read_text(encoding="utf-8"))
    document = json.loads(render_findings("sarif", FINDINGS, FILES))
    validator = jsonschema.Draft4Validator(schema, format_checker=jsonschema.FormatChecker())
    assert [error.message for error in validator.iter_errors(document)] == []
    assert [error.message for error in validator.iter_errors({**document, "runs": [{}]})]  # it does check


def test_sarif_places_are_exact_in_code_points() -> None:
    results = json.loads(render_findings("sarif", FINDINGS, FILES))["runs"][0]["results"]
    place = results[0]["locations"][0]["physicalLocation"]
    assert place["artifactLocation"]["uri"] == "halle%20%C3%9F/plant%201.fed"
    # `\tpanel "𝄞 Ä" MSV`: a tab, a character beyond the basic plane and an umlaut count one column each
    assert place["region"] == {"startLine": 3, "startColumn": 14, "endLine": 3, "endColumn": 17}
    assert [result["level"] for result in results] == ["error", "warning", "warning", "note"]
    assert "locations" not in results[2]


def test_annotations_take_a_column_only_on_one_line_and_escape_what_the_service_reads() -> None:
    first, second, third, fourth = render_findings("annotations", FINDINGS, FILES).splitlines()
    assert first == (
        "::error file=halle ß/plant 1.fed,line=3,endLine=3,col=14,endColumn=17,title=unknown-tag"
        "::nothing is tagged `MSV`%0Ahelp: write MSB%0Aor MSC"
    )
    assert second.startswith("::warning file=halle ß/plant 1.fed,line=3,endLine=4,title=")
    assert third == "::warning title=length-missing::needs a length"
    assert fourth == "::notice file=gone.fed,title=phase-balance::uneven"


CASES = (
    Case("a.fed", "fault at LP1 <= 14 kA", True, "it is 4.5 kA", span("MSV")),
    Case("a.fed", 'demand at "M&M" <= 9 A', False, "it is 12 A, in state <Normal>", span("MSV")),
    Case("a.fed", "drop at LP2 <= 3 %", None, "not checked: needs length", span("MSV")),
    Case("b.fed", "the text can be read", False, "part of the text could not be read"),
)


def test_junit_has_a_suite_for_each_project_and_passes_nothing_unknown() -> None:
    root = ElementTree.fromstring(render_findings("junit", FINDINGS, FILES, cases=CASES))
    assert dict(root.attrib) == {"tests": "4", "failures": "1", "errors": "1", "skipped": "1"}
    assert [(suite.get("name"), len(suite)) for suite in root] == [("a.fed", 3), ("b.fed", 1)]
    passed, failed, skipped = root[0]
    assert len(passed) == 0
    assert passed.get("line") == "3"
    assert failed.get("name") == 'demand at "M&M" <= 9 A'
    assert failed[0].tag == "failure"
    assert failed[0].get("message") == "it is 12 A, in state <Normal>"
    assert skipped[0].tag == "skipped"
    error = root[1][0][0]
    assert error.tag == "error"
    assert "nothing is tagged `MSV`" in str(error.get("message"))


@pytest.mark.parametrize("form", forms())
def test_a_form_without_findings_is_a_whole_document(form: str) -> None:
    text = render_findings(form, (), {})
    if form in ("json", "sarif"):
        json.loads(text)
    elif form == "junit":
        assert ElementTree.fromstring(text).get("tests") == "0"
    else:
        assert text == ""


def test_a_sign_that_moves_the_cursor_is_not_sent_to_the_terminal() -> None:
    """A carriage return or an escape in the text would overwrite the excerpt; its column stays where it was."""
    file = SourceFile("a.fed", "fedfrom 1\r\x1b[2Jutility\tUT { }\n")
    at = file.text.index("UT")
    shown = render_findings(
        "text", [Finding("orphan", Severity.NOTE, "UT", "m", Span("a.fed", at, at + 2))], {"a.fed": file}
    )
    assert "1 | fedfrom 1  [2Jutility UT { }\n" in shown
    assert f"\n  | {' ' * at}^^\n" in shown
