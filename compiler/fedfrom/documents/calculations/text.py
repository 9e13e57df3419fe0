"""A calculation as plain text, laid out as one would by hand: given, worked line by line, what was rejected."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from fedfrom.documents.calculations.view import Calculation, Line

WIDTH = 100
# A line of the calculation that is longer is broken at its equals signs.
ONE_LINE = 84
# A left side that is longer than this does not set the column of the equals signs.
LONGEST_LEFT = 28


def calculation_text(it: Calculation) -> str:
    """The whole calculation; ends with a line end."""
    lines = [f"{it.subject}: {it.title}", f"  = {it.value}", f"  {_circumstances(it)}"]
    if it.given:
        lines += ["", "  Given", *(f"    {line}" for line in given_lines(it, WIDTH - 4))]
    if it.lines:
        head = "Calculation" if any(len(line.parts) > 1 for line in it.lines) else "Reasons"
        lines += ["", f"  {head}", *(f"    {line}" for line in worked_lines(it, WIDTH - 4))]
    tail = []
    if it.rounding and it.rounding != "none":
        tail.append(("Rounding", it.rounding))
    tail += [("Not", f"{option}: {reason}") for option, reason in it.rejected]
    if it.clause:
        tail.append(("Clause", it.clause))
    if tail:
        lines.append("")
    for head, text in tail:
        lines += _wrapped(f"  {head:<9} ", text, WIDTH)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _circumstances(it: Calculation) -> str:
    return f"{it.origin}; state: {it.state}" if it.state else it.origin


def given_lines(it: Calculation, width: int) -> Iterator[str]:
    """The values that the calculation starts from, in columns; a long one is wrapped."""
    symbols = max(len(each.symbol) for each in it.given)
    short = [len(each.value) for each in it.given if len(each.value) <= LONGEST_LEFT]
    values = max(short, default=0)
    for each in it.given:
        sign = "=" if each.symbol else " "
        head = f"{each.symbol:<{symbols}} {sign} "
        tail = each.name + (f"  [{each.source}]" if each.source else "")
        if len(each.value) <= values:
            yield from _wrapped(f"{head}{each.value:<{values}}  ", tail, width)
        else:
            source = f"  [{each.source}]" if each.source else ""
            yield from _wrapped(head, f"{each.name}: {each.value}{source}", width)


def worked_lines(it: Calculation, width: int) -> Iterator[str]:
    """The calculation: a short line whole, a long one broken at its equals signs; clauses at the right."""
    for line in it.lines:
        whole = line.text
        if len(whole) <= ONE_LINE or line.picks:
            yield from _with_clause(textwrap.wrap(whole, width, subsequent_indent="    "), line.clause, width)
        else:
            yield from _with_clause(_stacked(line), line.clause, width)


def _stacked(line: Line) -> list[str]:
    first, *rest = line.parts
    if not rest:
        return textwrap.wrap(first, WIDTH - 8)
    left = first.find(" = ")
    indent = left if 0 <= left <= LONGEST_LEFT else 4
    lines = textwrap.wrap(first, WIDTH - 8, subsequent_indent=" " * (indent + 3))
    for part in rest:
        lines += textwrap.wrap(
            part, WIDTH - 8, initial_indent=f"{' ' * indent} = ", subsequent_indent=" " * (indent + 3)
        )
    return lines


def _with_clause(lines: list[str], clause: str, width: int) -> Iterator[str]:
    *before, last = lines
    yield from before
    if not clause:
        yield last
    elif len(last) + len(clause) + 4 <= width:
        yield f"{last}{' ' * (width - len(last) - len(clause) - 2)}[{clause}]"
    else:
        yield last
        yield f"{'':>{max(0, width - len(clause) - 2)}}[{clause}]"


def _wrapped(head: str, text: str, width: int) -> list[str]:
    return textwrap.wrap(
        text, width, initial_indent=head, subsequent_indent=" " * len(head), break_on_hyphens=False,
        break_long_words=False,
    ) or [head]  # fmt: skip
