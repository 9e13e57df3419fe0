"""The answer to `fedfrom explain`, as text or Markdown."""

from __future__ import annotations

from collections.abc import Callable

from fedfrom.documents.calculations.markdown import calculation_markdown
from fedfrom.documents.calculations.overview import overview_markdown, overview_text
from fedfrom.documents.calculations.subjects import Answer, Subjects
from fedfrom.documents.calculations.text import calculation_text
from fedfrom.documents.calculations.view import Calculation, calculation, place_of
from fedfrom.documents.specification.markdown import escape
from fedfrom.findings import Finding
from fedfrom.findings.render.text import render_one
from fedfrom.rules.registry import Design, Rule, all_rules

RENDERERS: dict[str, Callable[[Calculation], str]] = {"text": calculation_text, "markdown": calculation_markdown}

# Rules without a clause of a code are rules of the language.
LANGUAGE = "the language"


def explanation(subjects: Subjects, answer: Answer, form: str, path: str, *, whole: bool = False) -> str:
    """The text for an answer that was found; `whole` gives every calculation of a thing instead of the list."""
    design = subjects.design
    if answer.rule or answer.findings:
        return _about_findings(subjects, answer, form)
    chosen = answer.subjects
    if answer.tag:
        if not whole:
            write = overview_markdown if form == "markdown" else overview_text
            return write(subjects, answer.tag, path)
        rows = design.results.circuits.get(answer.tag, ())
        circuits = [each for row in rows if row.kind != "feeder" for each in subjects.of_circuit(row)]
        chosen = (*subjects.of_tag(answer.tag), *circuits)
    render = RENDERERS[form]
    return "\n".join(render(calculation(design, design.results.derivations[name])) for name in chosen)


def _about_findings(subjects: Subjects, answer: Answer, form: str) -> str:
    parts = []
    name = answer.rule or answer.findings[0].rule
    rule = next((each for each in all_rules() if each.id == name), None)
    if rule is not None:
        parts.append(_rule_text(subjects.design, rule, answer.rule != "", len(answer.findings), form))
    for finding in answer.findings:
        parts.append(_finding_text(subjects, finding, form))
    return "\n".join(parts)


def _rule_text(design: Design, rule: Rule, with_count: bool, count: int, form: str) -> str:
    clause = design.edition.clause(rule.clause) if rule.clause else LANGUAGE
    found = f"{count} found in this design" if count else "nothing found in this design"
    title = rule.title[:1].upper() + rule.title[1:]
    if form == "markdown":
        lines = [f"### `{rule.id}`: {escape(title)}", "", escape(rule.why.strip()), ""]
        lines += [f"- Severity: {rule.severity.word}", f"- Clause: {escape(clause)}"]
        lines += [f"- {found}"] if with_count else []
        return "\n".join(lines) + "\n"
    lines = [f"{rule.id} ({rule.severity.word}): {title}", f"  {rule.why.strip()}", f"  Clause    {clause}"]
    if with_count:
        lines.append(f"  Here      {found}; its example: fedfrom rules {rule.id}")
    return "\n".join(lines) + "\n"


def _finding_text(subjects: Subjects, finding: Finding, form: str) -> str:
    design = subjects.design
    reason = next((reason for each, reason in design.results.accepted if each == finding), "")
    related = related_subjects(subjects, finding)
    if form == "markdown":
        place = place_of(design, finding.span)
        lines = [f"#### {escape(finding.rule)} on {escape(finding.subject)}", "", escape(finding.message), ""]
        lines += [f"- {escape(note)}" for note in finding.notes]
        lines += [f"- What to do: {escape(finding.help)}"] if finding.help else []
        lines += [f"- Place: {escape(place)}"] if place else []
        lines += [f"- Accepted because: {escape(reason)}"] if reason else []
        lines += [f"- Numbers: {', '.join(f'`{each}`' for each in related)}"] if related else []
        return "\n".join(lines) + "\n"
    text = render_one(finding, design.files)
    if reason:
        text += f"  accepted because: {reason}\n"
    if related:
        text += f"  its numbers: {', '.join(related)}\n"
    return text


def related_subjects(subjects: Subjects, finding: Finding) -> tuple[str, ...]:
    """The calculations that the subject of a finding has, the first few."""
    answer = subjects.answer(finding.subject)
    return (subjects.of_tag(answer.tag) if answer.tag else answer.subjects)[:10]
