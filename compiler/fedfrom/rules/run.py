"""`run_rules`: runs every check, then what the text accepts, then what it expects."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from fedfrom.findings import Finding, sort_findings
from fedfrom.graph.network import Network, StatePlan
from fedfrom.model.items import Model
from fedfrom.model.read import one_for_each_place
from fedfrom.results.types import Results
from fedfrom.rules.acceptance import apply_acceptances
from fedfrom.rules.consequences import without_consequences
from fedfrom.rules.expectation import check_expectations
from fedfrom.rules.registry import Design, all_rules
from fedfrom.rules.review import review_rules
from fedfrom.tables import Edition


def run_rules(
    model: Model,
    network: Network,
    plan: StatePlan,
    results: Results,
    edition: Edition,
    findings: Iterable[Finding],
) -> tuple[Results, tuple[Finding, ...]]:
    """The results with acceptances, expectations and counts, and the final findings in order of place.

    `findings`: those of reading, network and passes. Every rule runs on the same design; none sees another's findings.
    """
    design = Design(model, network, plan, results, edition)
    found = list(findings)
    rules = all_rules()
    for rule in rules:
        if rule.check is not None:
            found.extend(rule.check(design))
    outcomes, unmet = check_expectations(design)
    found.extend(unmet)
    kept, accepted = apply_acceptances(design, sort_findings(without_consequences(model, found)))
    final = sort_findings(one_for_each_place(kept))
    review = review_rules(design, rules, final, (finding for finding, _ in accepted))
    counts = Counter(finding.rule for finding in final)
    return (
        replace(
            results,
            expectations=outcomes,
            accepted=accepted,
            findings=final,
            review=review,
            rule_counts={rule.id: counts.get(rule.id, 0) for rule in rules} | dict(sorted(counts.items())),
        ),
        final,
    )
