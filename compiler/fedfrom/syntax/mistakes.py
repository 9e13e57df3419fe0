"""The table of mistakes (`grammar/mistakes.toml`): what is wrong with a line that did not parse, as a sentence.

Its patterns would give false alarms on correct lines, so that they are tried on failed lines only.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from fedfrom.findings import Edit, Finding, Fix, Severity
from fedfrom.source import Span
from fedfrom.syntax.scan import mask

#: Longer lines are not tried: some patterns take the square of the length.
_LONGEST_LINE = 1_000


@dataclass(frozen=True, slots=True)
class Mistake:
    """An entry of the table. `repair` replaces what the group `at` of `pattern` marks ("" deletes it), None: no repair.

    `parses`: the mistake does not break the parse. `wrong` is a line with the mistake, `right` what it should be.
    """

    rule: str
    pattern: re.Pattern[str]
    message: str
    help: str
    label: str
    repair: str | None
    parses: bool
    wrong: str
    right: str


@cache
def all_mistakes() -> tuple[Mistake, ...]:
    """The table, in the order in which its entries are tried."""
    data = tomllib.loads(files("fedfrom.grammar").joinpath("mistakes.toml").read_text(encoding="utf-8"))
    made = []
    for entry in data["mistake"]:
        pattern = entry["pattern"]
        for name, part in data["names"].items():
            pattern = pattern.replace(f"<{name}>", part)
        made.append(Mistake(**({"repair": None, "parses": False} | entry | {"pattern": re.compile(pattern)})))
    return tuple(made)


def explain(text: str, file: str, offset: int, subject: str, *, parses: bool = False) -> Finding | None:
    """The finding of the first entry that knows what is wrong with this line; None when no entry does.

    `text` is the line without the `{` of its block, `offset` where it starts in the file. `parses`: the line parsed,
    but cannot be meant as it reads.
    """
    if len(text) > _LONGEST_LINE:
        return None
    covered = mask(text)
    for mistake in all_mistakes():
        match = mistake.pattern.search(covered) if mistake.parses or not parses else None
        if match:
            return _finding(mistake, match, text, file, offset, subject)
    return None


def _finding(mistake: Mistake, match: re.Match[str], text: str, file: str, offset: int, subject: str) -> Finding:
    words = {
        name: text[match.start(name) : match.end(name)].strip() if match[name] is not None else ""
        for name in match.re.groupindex
    }
    start, end = match.span("at")
    if end == start:
        end = start + 1
    span = Span(file, offset + start, offset + end)
    fix = None
    if mistake.repair is not None:
        replaced = mistake.repair.format_map(words)
        title = f"replace it by `{replaced.strip()}`" if replaced.strip() else "remove it"
        fix = Fix(title, (Edit(span, replaced),), safe=False)
    return Finding(
        mistake.rule,
        Severity.ERROR,
        subject,
        _filled(mistake.message, words),
        span,
        label=_filled(mistake.label, words),
        help=_filled(mistake.help, words),
        fix=fix,
    )


def _filled(sentence: str, words: dict[str, str]) -> str:
    pieces = " ".join(sentence.format_map(words).split()).split("`")
    return "`".join(piece.strip() if index % 2 else piece for index, piece in enumerate(pieces))
