"""Findings, acceptances, assumptions and expectations as tables: what a reviewer reads first."""

from __future__ import annotations

from fedfrom.documents.tables import Cell, Table, number_column, text_column
from fedfrom.findings import Finding, Severity
from fedfrom.rules.registry import Design
from fedfrom.rules.review import review_text

ORDER = (Severity.ERROR, Severity.WARNING, Severity.NOT_CHECKED, Severity.NOTE)


def place_text(design: Design, finding: Finding) -> str:
    """ "plant.fed:12", "" where there is no place."""
    if finding.span is None:
        return ""
    source = design.files.get(finding.span.file)
    return f"{finding.span.file}:{source.place(finding.span.start).line}" if source else finding.span.file


def findings_table(design: Design) -> Table:
    """Findings, the gravest first, in source order within."""
    columns = (
        text_column("SEVERITY", 1.0),
        text_column("SUBJECT", 1.6),
        text_column("RULE", 1.7),
        text_column("FINDING", 5.6),
        text_column("WHAT TO DO", 3.0),
        text_column("CLAUSE", 1.9),
        text_column("PLACE", 1.2),
    )
    rows: list[tuple[Cell, ...]] = []
    for severity in ORDER:
        for finding in design.results.findings:
            if finding.severity is severity:
                text = " ".join((finding.message, *finding.notes))
                place = place_text(design, finding)
                word = severity.word.upper()
                rows.append((word, finding.subject, finding.rule, text, finding.help, finding.clause, place))
    return Table("FINDINGS", columns, tuple(rows))


def accepted_table(design: Design) -> Table:
    """Findings that the engineer accepted, with the reason given."""
    columns = (
        text_column("SUBJECT", 1.6),
        text_column("RULE", 1.8),
        text_column("FINDING", 6.3),
        text_column("ACCEPTED BECAUSE", 6.3),
    )
    rows = tuple((item.subject, item.rule, item.message, reason) for item, reason in design.results.accepted)
    return Table("FINDINGS ACCEPTED", columns, rows)


def assumption_table(design: Design) -> Table:
    """Values that are assumed, with the reason given."""
    columns = (text_column("AT", 2.0), text_column("ASSUMED", 7.0), text_column("BECAUSE", 7.0))
    rows = tuple((item.subject, item.what, item.reason) for item in design.results.assumptions)
    return Table("ASSUMPTIONS", columns, rows)


def expectation_table(design: Design) -> Table:
    """What the engineer expects of the design, and whether it holds."""
    columns = (
        text_column("EXPECTED", 6.0),
        text_column("FOUND", 3.0),
        text_column("RESULT", 2.0),
        text_column("NOTE", 5.0),
    )
    words = {True: "MET", False: "NOT MET", None: "NOT CHECKED"}
    rows = tuple((item.text, item.measured, words[item.met], item.note) for item in design.results.expectations)
    return Table("EXPECTATIONS", columns, rows)


def rule_table(design: Design) -> Table:
    """The checks that found something or lack a fact, and how all of them came out."""
    review = design.results.review
    columns = (
        text_column("CHECK", 4.0),
        text_column("OUTCOME", 2.0),
        number_column("PLACES", "", 1.5),
        text_column("NEEDS", 8.5),
    )
    rows = tuple(
        (name, each.outcome.upper(), each.findings or each.accepted or each.unchecked or None, each.needs)
        for name, each in sorted(review.items())
        if each.outcome in ("failed", "accepted", "not checked")
    )
    return Table("RULES", columns, rows, f"{review_text(review)}.")


def count_text(design: Design) -> str:
    """The count of findings for title strips: "0 ERRORS, 1 WARNING, 1 NOT CHECKED, 1 NOTE"."""
    parts = []
    for severity in ORDER:
        count = sum(1 for finding in design.results.findings if finding.severity is severity)
        word = severity.word.upper()
        plural = "" if severity is Severity.NOT_CHECKED or count == 1 else "S"
        parts.append(f"{count} {word}{plural}")
    return ", ".join(parts)
