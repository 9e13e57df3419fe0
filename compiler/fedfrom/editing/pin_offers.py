"""What to write instead where a value cannot be pinned in place: a `change` in the `use`, or lines of its own."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from fedfrom.editing.formatting import format_text
from fedfrom.editing.pin_types import Candidate, How
from fedfrom.source import SourceFile, Span
from fedfrom.syntax.tree import Line, ListValue, Part, Run, Site, Statement, Text, Tree

_INDENT = "    "


@dataclass(frozen=True, slots=True)
class Offer:
    """Text that pins what a `typical`, a `for` or a table made; `where`: what to do with it."""

    tag: str
    where: str
    text: str


def offers(wanted: Sequence[Candidate], expanded: Tree, files: Mapping[str, SourceFile]) -> tuple[Offer, ...]:
    """One for each item that `wanted` speaks of; none for what a `change` cannot say (a load with a block)."""
    found = []
    for tag in dict.fromkeys(candidate.home.item for candidate in wanted if candidate.home):
        of_item = [candidate for candidate in wanted if candidate.home and candidate.home.item == tag]
        lines = _lines(of_item, expanded)
        if lines:
            found.append(_offer(tag, lines, of_item, files))
    return tuple(found)


def _offer(tag: str, lines: list[str], wanted: Sequence[Candidate], files: Mapping[str, SourceFile]) -> Offer:
    change = _laid_out("\n".join(_in_braces(f"change {tag}", lines)))
    trail = next((candidate.home.trail for candidate in wanted if candidate.home and candidate.home.trail), ())
    loop = ""
    for site in trail:
        text = _source(site.span, files)
        if text.startswith("use "):
            head = _with_values(text, site) if loop else text
            where = f"take this turn out of `{loop}` and write" if loop else "write in the braces of the `use`"
            return Offer(tag, where, _laid_out("\n".join(_in_braces(head, change.splitlines()))))
        loop = text
    inside = "\n".join(line.removeprefix(_INDENT) for line in change.splitlines()[1:-1])
    where = f"write in the place of what `{loop}` makes" if loop else "write in the place of the row of the table"
    return Offer(tag, where, inside)


def _in_braces(head: str, lines: Iterable[str]) -> list[str]:
    return [f"{head} {{", *(_INDENT + line for line in lines), "}"]


def _laid_out(text: str) -> str:
    return (format_text(SourceFile("offer.fed", text + "\n")).text or text).rstrip("\n")


def _source(span: Span, files: Mapping[str, SourceFile]) -> str:
    source = files.get(span.file)
    return source.text[span.start : span.end].partition("{")[0].strip() if source is not None else ""


def _with_values(head: str, site: Site) -> str:
    """`use Floor(level: [level])` with the values of one turn: `use Floor(level: 7)`."""
    name = head.removeprefix("use ").partition("(")[0].strip()
    pairs = [pair.strip().partition(" ") for pair in site.text.split(",")[1:]]
    return f"use {name}({', '.join(f'{key}: {value}' for key, _, value in pairs)})"


# --- lines -----------------------------------------------------------------------------------------------------------


def _lines(wanted: Sequence[Candidate], expanded: Tree) -> list[str] | None:
    """The lines of a `change`: properties as they are, a feed or load line as a whole. None where one has a block."""
    made = [candidate.words for candidate in wanted if candidate.how is How.PROPERTY]
    by_line: dict[tuple[Span, tuple[Site, ...]], list[Candidate]] = {}
    for candidate in wanted:
        if candidate.how is not How.PROPERTY and candidate.home is not None:
            by_line.setdefault((candidate.home.span, candidate.home.trail), []).append(candidate)
    for (span, trail), candidates in by_line.items():
        line = _find(expanded.statements, span, trail)
        if line is None or line.block is not None:
            return None
        made.append(_written(line, candidates))
    return made


def _find(statements: Sequence[Statement], span: Span, trail: tuple[Site, ...]) -> Line | None:
    for statement in statements:
        if not isinstance(statement, Line):
            continue
        if statement.span == span and (statement.trail == trail or not trail):
            return statement
        if statement.block is not None:
            found = _find(statement.block.statements, span, trail)
            if found is not None:
                return found
    return None


def _written(line: Line, candidates: Sequence[Candidate]) -> str:
    text = ", ".join(map(_run, line.runs))
    positions = ",".join(word.text for word in line.positions)
    for candidate in candidates:
        match candidate.how:
            case How.OPTION:
                text += f", {candidate.words}"
            case How.POSITIONS:
                positions = candidate.words
                text += f", {candidate.also}" if candidate.also else ""
            case How.RATING:
                kind = re.match(r"[a-z -]+[a-z]", candidate.words)
                said = kind is not None and re.search(rf"\b{kind[0]}\b", text)
                text = text.replace(said[0], candidate.words, 1) if said else f"{text}, {candidate.words}"
    return f"{positions} {text}".strip()


def _run(run: Run) -> str:
    return " ".join(map(_part, run.parts))


def _part(part: Part) -> str:
    if isinstance(part, Text):
        text = part.text.replace("\\", "\\\\").replace('"', '\\"').replace("[", "[[").replace("]", "]]")
        return f'"{text}"'
    if isinstance(part, ListValue):
        return f"({', '.join(map(_run, part.values))})"
    return part.text
