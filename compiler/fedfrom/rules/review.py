"""How every check came out, and the counts: checked, passed, failed, accepted, not checked, not applicable."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from fedfrom.findings import Finding, Severity
from fedfrom.results.types import RuleOutcome
from fedfrom.rules.registry import Design, Rule

MENDED = "the errors in the text mended: what could not be read is not passed"
OUTCOMES = ("passed", "failed", "accepted", "not checked", "not applicable")


def review_rules(
    design: Design, rules: Iterable[Rule], findings: Sequence[Finding], accepted: Iterable[Finding]
) -> Mapping[str, RuleOutcome]:
    """The outcome of every rule. What is not checked is never counted as passed."""
    found = Counter(each.rule for each in findings if each.severity is not Severity.NOT_CHECKED)
    open_ = [each for each in findings if each.severity is Severity.NOT_CHECKED]
    unchecked = Counter(each.rule for each in open_)
    set_aside = Counter(each.rule for each in accepted)
    needs: dict[str, str] = {}
    for each in open_:
        needs.setdefault(each.rule, each.message.partition("not checked, needs ")[2] or each.message)
    unread = MENDED if any(item.unreadable for item in design.model.items.values()) or found["unknown-tag"] else ""
    outcomes = {}
    for rule in rules:
        missing = unread if rule.check is not None else ""
        if rule.needs is not None:
            missing = rule.needs(design) or missing
        counts = (found[rule.id], set_aside[rule.id], unchecked[rule.id])
        need = needs.get(rule.id, missing)
        outcomes[rule.id] = RuleOutcome(_outcome(design, rule, counts, missing), *counts, need)
    return outcomes


def _outcome(design: Design, rule: Rule, counts: tuple[int, int, int], missing: str) -> str:
    found, accepted, unchecked = counts
    if found:
        return "failed"
    if unchecked:
        return "not checked"
    if accepted:
        return "accepted"
    if rule.applies is not None and not rule.applies(design):
        return "not applicable"
    return "not checked" if missing else "passed"


def review_counts(review: Mapping[str, RuleOutcome]) -> Mapping[str, int]:
    """How many checks came out each way, in the order of OUTCOMES, after "checked" (passed, failed or accepted)."""
    counts = Counter(each.outcome for each in review.values())
    checked = sum(counts[name] for name in ("passed", "failed", "accepted"))
    return {"checked": checked, **{name: counts[name] for name in OUTCOMES}}


def review_text(review: Mapping[str, RuleOutcome]) -> str:
    """ "96 checks made: 90 passed, 4 failed, 2 accepted; 7 not checked, 31 not applicable"."""
    counts = review_counts(review)
    made = ", ".join(f"{counts[name]} {name}" for name in OUTCOMES[:3] if counts[name] or name != "accepted")
    rest = f"{counts['not checked']} not checked, {counts['not applicable']} not applicable"
    return f"{counts['checked']} checks made: {made}; {rest}"
