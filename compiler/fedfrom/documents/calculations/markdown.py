"""A calculation as Markdown: the values in a table, the lines as they stand in the text form."""

from __future__ import annotations

from fedfrom.documents.calculations.text import WIDTH, worked_lines
from fedfrom.documents.calculations.view import Calculation
from fedfrom.documents.specification.markdown import escape


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
