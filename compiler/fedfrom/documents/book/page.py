"""The page: gathers what the template of `templates/book/` shows, with styles and script inside the file."""

from __future__ import annotations

from typing import Any

from fedfrom.documents.book.sheets import font_faces, inline_sheets
from fedfrom.documents.book.things import elsewhere, script_data
from fedfrom.documents.calculations.book import chapters
from fedfrom.documents.calculations.text import WIDTH, given_lines, worked_lines
from fedfrom.documents.calculations.view import Calculation, place_of
from fedfrom.documents.schedules.pdf import schedules_data
from fedfrom.documents.template import template_text
from fedfrom.documents.words import CAUTION_TEXT
from fedfrom.findings import Finding, Severity
from fedfrom.rules.registry import Design, all_rules
from fedfrom.rules.review import OUTCOMES, review_counts, review_text

Json = dict[str, Any]

ORDER = (Severity.ERROR, Severity.WARNING, Severity.NOTE)
MET = {True: "met", False: "not met", None: "not checked"}


def book_html(design: Design) -> str:
    """The whole file. No address in it leads outside; without scripts it is a plain document with the drawing."""
    import jinja2

    found = chapters(design)
    sheets = inline_sheets(design)
    environment = jinja2.Environment(
        autoescape=True, trim_blocks=True, lstrip_blocks=True, undefined=jinja2.StrictUndefined,
        loader=jinja2.FunctionLoader(template_text),
    )  # fmt: skip
    environment.filters["body"] = _body
    environment.filters["anchor"] = anchor
    return environment.get_template("book/book.html.j2").render(
        project=design.results.project,
        digest=design.results.digest[:12],
        caution=CAUTION_TEXT,
        styles=f"{font_faces()}\n{template_text('book/book.css')}\n" + "\n".join(sheet.style for sheet in sheets),
        script=template_text("book/book.js"),
        data=script_data(design, found),
        sheets=sheets,
        states=design.plan.states,
        chapters=found,
        elsewhere=elsewhere(found),
        schedules=schedules_data(design)["sheets"],
        tags=list(dict.fromkeys((*design.network.nodes, *design.results.feeders))),
        **_review(design),
    )


def _review(design: Design) -> Json:
    results = design.results
    groups = [(word, rows) for word, rows in ((s.word, _findings(design, s)) for s in ORDER) if rows]
    rules = [
        {
            "id": rule.id,
            "severity": rule.severity.word,
            "title": rule.title[:1].upper() + rule.title[1:],
            "why": rule.why.strip(),
            "life_safety": rule.life_safety,
            "clause": design.edition.clause(rule.clause) if rule.clause else "the language",
            "outcome": results.review[rule.id].outcome if rule.id in results.review else "not checked",
            "count": results.rule_counts.get(rule.id, 0),
            "needs": results.review[rule.id].needs if rule.id in results.review else "",
        }
        for rule in all_rules()
    ]
    return {
        "groups": groups,
        "unchecked": _findings(design, Severity.NOT_CHECKED),
        "accepted": [{**_finding(design, each), "reason": reason} for each, reason in results.accepted],
        "assumptions": results.assumptions,
        "expectations": [(each, MET[each.met]) for each in results.expectations],
        "rules": rules,
        "outcomes": OUTCOMES,
        "review_counts": review_counts(results.review),
        "review_text": review_text(results.review),
        "severity_counts": [
            (severity.word, sum(1 for each in results.findings if each.severity is severity))
            for severity in (Severity.ERROR, Severity.WARNING, Severity.NOT_CHECKED, Severity.NOTE)
        ],
    }


def _findings(design: Design, severity: Severity) -> list[Json]:
    return [_finding(design, each) for each in design.results.findings if each.severity is severity]


def _finding(design: Design, finding: Finding) -> Json:
    return {
        "rule": finding.rule,
        "severity": finding.severity.word,
        "subject": finding.subject,
        "message": finding.message,
        "notes": finding.notes,
        "help": finding.help,
        "clause": finding.clause,
        "place": place_of(design, finding.span),
    }


def anchor(subject: str) -> str:
    """The id of a calculation in the page."""
    return f"c-{subject}"


def _body(it: Calculation) -> str:
    """Given values and lines as preformatted text."""
    lines = [*given_lines(it, WIDTH)] if it.given else []
    lines += ["", *worked_lines(it, WIDTH)] if it.lines else []
    return "\n".join(line.rstrip() for line in lines).strip("\n")
