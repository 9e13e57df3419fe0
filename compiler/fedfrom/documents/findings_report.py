"""`findings.md`: what was found, accepted, assumed, expected and not checked, for the reviewer."""

from __future__ import annotations

from collections.abc import Mapping

from fedfrom.documents.registry import Output
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
        rules=sorted(results.rule_counts.items()),
        clear=sorted(name for name, count in results.rule_counts.items() if not count),
    )


OUTPUT = Output("findings", "Findings, acceptances, assumptions (Markdown)", ("findings.md",), write)
