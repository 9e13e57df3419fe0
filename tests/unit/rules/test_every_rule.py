"""Every rule of the registry by its own two programs: `bad` gives the finding, `good` does not.

The rules on the text itself are run up to the model only; all others through the whole compiler, each program once.
"""

from __future__ import annotations

from functools import cache

import pytest
from tests.support.texts import Outcome, compiled

from fedfrom.findings import Severity
from fedfrom.rules.registry import Rule, all_rules
from fedfrom.rules.review import OUTCOMES, review_counts
from fedfrom.tables import editions, load_edition
from fedfrom.vocabulary.reference import reading_findings

# Made while the text is read; tests/unit/rules/test_reading_rules.py runs these.
READING = frozenset(reading_findings())
RULES = [rule for rule in all_rules() if rule.id not in READING]
# What another rule says too of a bad program, where one cannot be had without the other.
ALSO = {
    "emergency-ground-fault": {"emergency-source"},  # a second source would make the program twice as long
    "accept-unnamed": {"gfp-exempt"},  # the acceptance has no effect, so what it was for stays
    "bill-complete": {"fault-not-computed", "sccr-gear"},  # the bill lacks what a rule could not find either
    "selective-required": {"emergency-source"},
    "waiting": {"unknown-tag"},  # never alone: what waits, waits for an error of the text
    "instantaneous-overlap": {"selective-required"},  # both speak of the same path
    "beyond-tables": {"lug-fit"},  # sizes that the table leaves out are no usual ones either
}


@cache
def outcome(program: str) -> Outcome:
    return compiled(program)


def ids(rules: list[Rule]) -> list[str]:
    return [rule.id for rule in rules]


@pytest.mark.parametrize("rule", RULES, ids=ids(RULES))
def test_bad_program_gives_this_finding_and_no_graver_one(rule: Rule) -> None:
    found = outcome(rule.bad)
    assert found.of_rule(rule.id)
    least = max(rule.severity, Severity.NOT_CHECKED)  # notes beside notes do no harm
    others = {f.rule: f.message for f in found.findings if f.severity >= least and f.rule != rule.id}
    assert {name: text for name, text in others.items() if name not in ALSO.get(rule.id, ())} == {}
    assert found.results.review[rule.id].outcome in ("failed", "not checked")


@pytest.mark.parametrize("rule", RULES, ids=ids(RULES))
def test_good_program_gives_none(rule: Rule) -> None:
    found = outcome(rule.good)
    assert [finding.message for finding in found.of_rule(rule.id)] == []
    assert [f"{f.rule}: {f.message}" for f in found.findings if f.severity > Severity.WARNING] == []
    assert found.results.review[rule.id].outcome in ("passed", "accepted", "not applicable")


@pytest.mark.parametrize("rule", RULES, ids=ids(RULES))
def test_finding_says_where_what_and_what_to_do(rule: Rule) -> None:
    for finding in outcome(rule.bad).of_rule(rule.id):
        assert finding.span is not None
        assert finding.subject
        assert len(finding.message) > 10
        assert "None" not in finding.message
        assert "VoltageSystem" not in finding.message
        assert finding.help
        assert bool(finding.clause) == bool(rule.clause)


@pytest.mark.parametrize("rule", all_rules(), ids=lambda rule: rule.id)
def test_rule_explains_itself(rule: Rule) -> None:
    assert rule.title
    assert not rule.title.endswith(".")
    assert rule.why.endswith((".", "!"))
    assert len(rule.why) > 20
    if rule.clause:
        assert all(load_edition(edition).clause(rule.clause) for edition in editions())


def test_counts_hold_every_rule_once() -> None:
    review = outcome(RULES[0].good).results.review
    counts = review_counts(review)
    assert sum(counts[name] for name in OUTCOMES) == len(review) == len(all_rules())
    assert counts["checked"] == counts["passed"] + counts["failed"] + counts["accepted"]
