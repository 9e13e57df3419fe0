"""`findings.md`: what was found, accepted, assumed, expected and not checked, for the reviewer."""

from __future__ import annotations

from collections.abc import Mapping

from fedfrom.documents.registry import Output
from fedfrom.results.types import RuleOutcome
from fedfrom.rules.registry import Design

TEMPLATE = "findings/findings.md.j2"


def write(design: Design) -> Mapping[str, bytes]:
    return {"findings.md": findings_text(design).encode()}


def findings_text(design: Design) -> str:
    """The report as Markdown."""
    import jinja2

    from fedfrom.documents.schedules.review_tables import ORDER, count_text, place_text
    from fedfrom.documents.specification.markdown import escape
    from fedfrom.documents.template import template_text
    from fedfrom.rules.review import review_text

    environment = jinja2.Environment(trim_blocks=True, lstrip_blocks=True, undefined=jinja2.StrictUndefined)
    environment.filters["md"] = lambda text: escape(" ".join(str(text).split()))
    results = design.results
    groups = [
        (severity.word, [(each, place_text(design, each)) for each in results.findings if each.severity is severity])
        for severity in ORDER
    ]
    return environment.from_string(template_text(TEMPLATE)).render(
        results=results,
        project=results.project,
        counts=count_text(design).lower(),
        groups=groups,
        words={True: "met", False: "NOT MET", None: "not checked"},
        review=review_text(results.review),
        outcomes=_outcomes(results.review),
    )


def _outcomes(review: Mapping[str, RuleOutcome]) -> list[tuple[str, list[tuple[str, RuleOutcome]]]]:
    """The checks by outcome, what failed first; each with its name."""
    order = ("failed", "not checked", "accepted", "passed", "not applicable")
    return [(word, [(name, each) for name, each in sorted(review.items()) if each.outcome == word]) for word in order]


OUTPUT = Output("findings", "Findings, acceptances, assumptions (Markdown)", ("findings.md",), write)
