"""A calculation as Markdown: the values in a table, the lines as they stand in the text form."""

from __future__ import annotations

from collections.abc import Sequence

from fedfrom.documents.calculations.book import Chapter
from fedfrom.documents.calculations.forms import Form
from fedfrom.documents.calculations.text import WIDTH, worked_lines
from fedfrom.documents.calculations.view import Calculation
from fedfrom.documents.specification.markdown import escape
from fedfrom.documents.words import CAUTION_TEXT
from fedfrom.rules.registry import Design


def calculation_markdown(it: Calculation, level: int = 3) -> str:
    """The whole calculation under a heading of `level`; ends with a line end."""
    state = f"; state: {escape(it.state)}" if it.state else ""
    lines = [
        f"{'#' * level} `{it.subject}`: {escape(it.title)}",
        "",
        f"**{escape(it.value)}** ({escape(it.origin)}{state})",
        "",
    ]
    if it.given:
        lines += ["| | value | what | from |", "|---|---|---|---|"]
        for each in it.given:
            cells = (each.symbol, each.value, each.name, each.source)
            lines.append(f"| {' | '.join(escape(cell) for cell in cells)} |")
        lines.append("")
    if it.lines:
        lines += ["```text", *(line.rstrip() for line in worked_lines(it, WIDTH)), "```", ""]
    if it.rounding and it.rounding != "none":
        lines.append(f"- Rounding: {escape(it.rounding)}")
    lines += [f"- Not {escape(option)}: {escape(reason)}" for option, reason in it.rejected]
    if it.clause:
        lines.append(f"- Clause: {escape(it.clause)}")
    return "\n".join(lines).rstrip() + "\n"


def book_markdown(design: Design, found: Sequence[Chapter]) -> str:
    """The whole book: contents, then a chapter a thing."""
    info = design.results.project
    facts = ", ".join(escape(fact) for fact in (info.number, info.code) if fact)
    lines = [f"# Calculation book: {escape(info.title or 'project not named')}", "", facts, "", f"*{CAUTION_TEXT}*", ""]
    lines += [f"{'  ' * chapter.depth}- {escape(chapter.heading)}" for chapter in found]
    for chapter in found:
        lines += ["", f"## {escape(chapter.heading)}", ""]
        for entry in chapter.entries:
            lines += [calculation_markdown(entry), ""]
        if chapter.circuits:
            lines += [f"### Circuits of {escape(chapter.tag)}", ""]
            lines += ["| circuit | load | positions | device and conductors |", "|---|---|---|---|"]
            lines += [f"| {' | '.join(escape(cell) for cell in row)} |" for row in chapter.circuits]
            lines.append("")
        for entry in chapter.circuit_entries:
            lines += [calculation_markdown(entry), ""]
        for form in chapter.forms:
            lines += [form_markdown(form), ""]
        if chapter.repeated:
            lines += ["Calculated word by word as further up:", ""]
            lines += [f"- as `{first}`: {', '.join(f'`{each}`' for each in here)}" for first, here in chapter.repeated]
    return "\n".join(lines).rstrip() + "\n"


def form_markdown(form: Form) -> str:
    """Calculations of one form: what the symbols mean, the formulas, a row for each."""
    units = [f"{name} {unit}".strip() for name, unit in form.heads]
    lines = [f"### {escape(form.title)} of the circuits", ""]
    lines += [
        f"- {escape(symbol)}: {escape(name)}{escape(f', {unit}') if unit else ''}"
        for symbol, name, unit in form.symbols
    ]
    lines += ["", "```text", *form.formulas, "```", ""]
    lines += [f"| {' | '.join(escape(head) for head in units)} |", f"|{'---|' * len(units)}"]
    lines += [f"| {' | '.join(escape(cell) for cell in row)} |" for row in form.rows]
    lines += ["", f"- Clause: {escape(form.clause)}"] if form.clause else []
    return "\n".join(lines)
