"""`rules_page`: every check with its clause in one edition, why it is made, and the two designs that show it."""

from __future__ import annotations

from fedfrom.documents.template import template_text
from fedfrom.rules.registry import Rule, all_rules
from fedfrom.tables import Edition

TEMPLATE = "rules/rules.html.j2"


def rules_page(edition: Edition) -> str:
    """The page as one HTML file that needs nothing beside it."""
    import jinja2

    environment = jinja2.Environment(
        autoescape=True, trim_blocks=True, lstrip_blocks=True, undefined=jinja2.StrictUndefined
    )
    rules = [_view(rule, edition) for rule in all_rules()]
    return environment.from_string(template_text(TEMPLATE)).render(edition=edition.key, rules=rules)


def _view(rule: Rule, edition: Edition) -> dict[str, object]:
    return {
        "id": rule.id,
        "severity": rule.severity.word,
        "title": rule.title[:1].upper() + rule.title[1:],
        "why": rule.why.strip(),
        "clause": edition.clause(rule.clause) if rule.clause else "the language",
        "life_safety": rule.life_safety,
        "bad": rule.bad.strip("\n"),
        "good": rule.good.strip("\n"),
    }
