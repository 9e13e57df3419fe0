"""Rules on the text itself: their findings are made while it is read; each file's own programs show them."""

from __future__ import annotations

import pytest

from fedfrom.findings import Severity
from fedfrom.model.read import read_text
from fedfrom.rules.registry import Rule, all_rules
from fedfrom.vocabulary.reference import reading_findings

RULES = {rule.id: rule for rule in all_rules()}


def test_every_finding_of_reading_has_a_rule() -> None:
    assert set(reading_findings()) <= set(RULES)


@pytest.mark.parametrize(
    "rule", [RULES[name] for name in reading_findings() if name in RULES], ids=lambda rule: rule.id
)
def test_programs_of_the_rule(rule: Rule) -> None:
    """`bad` gives this finding at its severity, once, and nothing as grave besides; `good` gives nothing graver."""
    bad, good = (read_text(text, files=rule.files).findings for text in (rule.bad, rule.good))
    assert [(f.rule, f.severity) for f in bad if f.severity >= rule.severity] == [(rule.id, rule.severity)]
    assert [f.message for f in good if f.severity >= rule.severity] == []
    found = next(f for f in bad if f.rule == rule.id)
    assert found.span is not None
    assert found.help or rule.severity is Severity.NOTE
