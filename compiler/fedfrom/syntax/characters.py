"""Characters that the language does not use: one finding each, with the right form.

Every character is replaced by one character, so that places stay what they were and the rest of the line can be read.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from fedfrom.findings import Edit, Finding, Fix, Label, Severity
from fedfrom.source import Span

RULE = "invalid-character"

#: Not even in texts and comments: control characters, line separators that editors draw as line ends, marks that turn
#: the reading direction (they can hide what a line says), halves of surrogate pairs, and what XML cannot hold.
NEVER = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufffe\uffff]"
)
LONE_RETURN = re.compile("\r(?!\n)")

_FOREIGN = re.compile("[^\t\n\r\x20-\x7e]")
_QUOTES = "“”„‟«»"
_BLANKS = "\u00a0\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000"
_UNSEEN = "\u200b\u200c\u200d\u2060\ufeff\u00ad"


@dataclass(frozen=True, slots=True)
class _Form:
    """What to say about a character, and the one character that replaces it while reading on."""

    name: str
    replaced: str
    write: str


def _forms() -> dict[str, _Form]:
    forms = {sign: _Form("a curly quote", '"', 'write `"`') for sign in _QUOTES}
    forms |= {sign: _Form("a no-break or special blank", " ", "write a plain blank") for sign in _BLANKS}
    forms |= {sign: _Form("a character that is not seen", " ", "delete it") for sign in _UNSEEN}
    forms |= {sign: _Form("a long dash", "-", "write `-`") for sign in "–—‒―−‐‑"}
    forms |= {sign: _Form("a curly apostrophe", " ", 'write `ft` for feet; a text stands in `"`') for sign in "‘’′‚"}
    for sign, digit in (("²", "2"), ("³", "3")):
        forms[sign] = _Form("a raised digit", digit, f"write `ft{digit}` or `m{digit}`")
    forms |= {
        "″": _Form("an inch sign", " ", "write `inch`"),
        "°": _Form("a degree sign", " ", "write `C` or `F`: `35 C`"),
        "℃": _Form("a degree sign", "C", "write `C`: `35 C`"),
        "℉": _Form("a degree sign", "F", "write `F`: `95 F`"),
        "×": _Form("a multiplication sign", "x", "write `x`"),
        "·": _Form("a middle dot", " ", "remove it, or write `*` inside `[ ]`"),
        "÷": _Form("a division sign", " ", "write `/` inside `[ ]`"),
        "…": _Form("a sign for three dots", " ", "write `..`"),
        "≤": _Form("a comparison sign", "<", "write `<=`"),
        "≥": _Form("a comparison sign", ">", "write `>=`"),
        "≠": _Form("a comparison sign", "=", "write `!=`"),
        "\u2126": _Form("an ohm sign", " ", "write `ohm`"),
        "\u03a9": _Form("an ohm sign", " ", "write `ohm`"),
        "φ": _Form("a phase sign", " ", "write `3-phase`"),
        "Φ": _Form("a phase sign", " ", "write `3-phase`"),
        "ø": _Form("a phase sign", " ", "write `3-phase`"),
        "Ø": _Form("a phase sign", " ", "write `3-phase`"),
        "½": _Form("a fraction sign", " ", "write `1/2`"),
        "¼": _Form("a fraction sign", " ", "write `1/4`"),
        "¾": _Form("a fraction sign", " ", "write `3/4`"),
    }
    return forms


_FORMS = _forms()


def clean(text: str, file: str) -> tuple[str, list[Finding], set[int]]:
    """The text with every character that is not used replaced, the findings, and the lines (from 0) to distrust.

    On a distrusted line something is lost by the replacement, so that it is not read further.
    """
    findings: list[Finding] = []
    distrusted: set[int] = set()
    text = _lone_returns(text, file, findings)
    lines = text.split("\n")
    offset = 1 if text.startswith("\ufeff") else 0
    if offset:
        lines[0] = " " + lines[0][1:]
    start = 0
    for number, line in enumerate(lines):
        if not line.isascii() or NEVER.search(line):
            lines[number] = _clean_line(line, file, start, findings)
            if _lost(line, lines[number]):
                distrusted.add(number)
        start += len(line) + 1
    return "\n".join(lines), findings, distrusted


def _lone_returns(text: str, file: str, findings: list[Finding]) -> str:
    places = [match.start() for match in LONE_RETURN.finditer(text)]
    if not places:
        return text
    count = "a line ends" if len(places) == 1 else f"{len(places)} lines end"
    findings.append(
        Finding(
            RULE,
            Severity.ERROR,
            "",
            f"{count} with a carriage return alone",
            Span(file, places[0], places[0] + 1),
            label="the first of them" if len(places) > 1 else "here",
            help="save the file with LF or CRLF line ends",
        )
    )
    return LONE_RETURN.sub("\n", text)


def _clean_line(line: str, file: str, start: int, findings: list[Finding]) -> str:
    """Walk through one line: what is in texts and comments stays, but for what is refused everywhere."""
    made = list(line)
    found: dict[str, list[tuple[int, str]]] = {}
    where, closed_by = "code", ""
    for at, sign in enumerate(line):
        if NEVER.match(sign) or (where == "code" and _FOREIGN.match(sign)):
            form = _FORMS.get(sign)
            made[at] = form.replaced if form else " "
            found.setdefault(form.name if form else "", []).append((at, sign))
            if where == "code" and made[at] == '"':
                where, closed_by = "text", '"' + _QUOTES
        elif where == "text" and sign in closed_by and line[at - 1] != "\\":
            if sign != '"':
                made[at] = '"'
                found.setdefault(_FORMS[sign].name, []).append((at, sign))
            where = "code"
        elif where == "code" and sign == "#" and not line[at + 1 : at + 2].isdigit():
            where = "comment"
        elif where == "code" and sign == '"':
            where, closed_by = "text", '"' if '"' in line[at + 1 :] else _QUOTES
    findings.extend(_finding(name, places, file, start) for name, places in found.items())
    return "".join(made)


def _finding(name: str, places: list[tuple[int, str]], file: str, start: int) -> Finding:
    spans = [Span(file, start + at, start + at + 1) for at, _ in places]
    sign = places[0][1]
    form = _FORMS.get(sign)
    shown = ", ".join(dict.fromkeys(_shown(sign) for _, sign in places))
    what = f"{form.name} ({_shown(sign)})" if form else f"the character {shown}"
    fix = None
    if (form and form.replaced in {'"', "-", "x", "2", "3"}) or sign in _BLANKS:
        replaced = form.replaced if form else " "
        fix = Fix(f"replace it by `{replaced}`", tuple(Edit(span, replaced) for span in spans), safe=True)
    return Finding(
        RULE,
        Severity.ERROR,
        "",
        f"{what} is not used in the language",
        spans[0],
        label="here",
        related=tuple(Label(span, "and here") for span in spans[1:]),
        help=form.write if form else "delete it, or put it into a text or a comment",
        fix=fix,
    )


def _shown(sign: str) -> str:
    return f"`{sign}`" if sign.isprintable() and sign not in _BLANKS + _UNSEEN else f"U+{ord(sign):04X}"


def _lost(before: str, after: str) -> bool:
    """Whether a replacement took something away that the line may need (`1½ hp` must not be read as `1 hp`)."""
    return any(
        old != new and (form is None or (new == " " and old not in _BLANKS + _UNSEEN + "°") or new in "<>=")
        for old, new in zip(before, after, strict=True)
        for form in (_FORMS.get(old),)
    )
