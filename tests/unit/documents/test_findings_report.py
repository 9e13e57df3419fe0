"""The findings report tells errors, what was not checked, acceptances, assumptions and expectations apart."""

from __future__ import annotations

from dataclasses import replace

from tests.support.results_fixture import works

from fedfrom.documents.findings_report import findings_text


def test_report_has_every_part() -> None:
    text = findings_text(works())
    assert "**0 errors, 1 warning, 1 not checked, 1 note.**" in text
    assert text.index("## Warning (1)") < text.index("## Not checked (1)") < text.index("## Note (1)")
    assert "- **MCC1**: Voltage drop of MCC1 is not checked: needs its length." in text
    assert "plant.fed:2" in text
    assert "existing raceway, owner letter of 2026-03-02" in text
    assert "| UT | 38 kA at service point | utility letter pending |" in text
    assert "| not checked | needs a length |" in text
    assert "## Error" not in text


def test_user_text_cannot_break_a_table() -> None:
    design = works()
    accepted = ((replace(design.results.findings[0], message="a | b\nc"), "x | y"),)
    text = findings_text(replace(design, results=replace(design.results, accepted=accepted)))
    assert "a \\| b c | x \\| y |" in text
