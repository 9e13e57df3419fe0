"""Small phrases that the findings of lowering are made of."""

from __future__ import annotations

from collections.abc import Sequence

from fedfrom.findings import Finding, Severity
from fedfrom.findings.nearest import listed
from fedfrom.quantity import UNITS, USUAL_UNITS
from fedfrom.source import Span
from fedfrom.syntax.tree import Part, Text, Word
from fedfrom.vocabulary import Element, Entry, Scope, Vocabulary

_SCOPES = {
    "top": "at the top of a file",
    "feed": "in a feed",
    "load": "on a load line",
    "circuit": "in a circuit",
    "main": "after `main`",
    "defaults": "in `defaults`",
    "project": "in `project`",
    "tie": "in a tie",
    "reserve": "on a spare or space",
    "loads from": "in `loads from`",
}
_PLAIN = {
    "text": 'a text in quotes ("…")',
    "tag": "a tag",
    "part": "a tag",
    "count": "a whole number",
    "number": "a plain number",
    "system": "a voltage system such as `480Y/277 V`",
    "pair": "a voltage system such as `120/208 V`",
    "size": "a conductor size such as `3/0 AWG`",
    "trade": "a trade size such as `2 inch`",
    "date": "a date such as `2026-05-31`",
}


def error(rule: str, subject: str, message: str, span: Span, label: str = "", advice: str = "") -> Finding:
    """An error at a place of the text."""
    return Finding(rule, Severity.ERROR, subject, message, span, label=label, help=advice)


def a(kind: str) -> str:
    """`kind` with its article: "a panelboard", "an isolated power panel"."""
    spoken_as_consonant = kind in {"utility", "ups"}
    return f"{'an' if kind[:1] in 'aeio' and not spoken_as_consonant else 'a'} {kind}"


def scope_words(kind: str) -> str:
    """A scope for a sentence: "in a panelboard", "on a load line"; an entry's own options are "after `growth`"."""
    if kind.startswith("after "):
        return kind
    return _SCOPES.get(kind, f"in {a(kind)}")


def belongs(kinds: Sequence[str]) -> str:
    """Where a name belongs: "in a feed, on a load line or in `defaults`"; many are counted."""
    spoken = [scope_words(kind) for kind in kinds]
    if len(spoken) > 3:
        return f"{', '.join(spoken[:2])} and {len(spoken) - 2} more places"
    return ", ".join(spoken[:-1]) + " or " + spoken[-1] if len(spoken) > 1 else spoken[0]


def written(parts: Sequence[Part]) -> str:
    """The parts as they stand in the text."""
    return " ".join(f'"{part.text}"' if isinstance(part, Text) else getattr(part, "text", "( … )") for part in parts)


def leading_words(parts: Sequence[Part]) -> list[str]:
    """The words at the start, up to a quoted text; never empty."""
    words: list[str] = []
    for part in parts:
        if not isinstance(part, Word):
            break
        words.append(part.text)
    return words or [written(parts[:1])]


def needed(expected: Sequence[Element], vocabulary: Vocabulary) -> str:
    """What may stand in a place, in words: "a current or a metal (`Cu` or `Al`)"."""
    said: dict[str, None] = {}
    for element in expected:
        if element.type == "quantity":
            said.update(dict.fromkeys(dimension.value for dimension in element.dimensions))
        elif element.type == "list":
            words = list(vocabulary.lists[element.list].words)
            noun = vocabulary.lists[element.list].noun
            said[f"{noun} ({listed(words)})" if len(words) <= 5 else noun] = None
        elif element.type == "word":
            said[f"`{element.literal}`"] = None
        else:
            said[_PLAIN[element.type]] = None
    names = list(said)
    return ", ".join(names[:-1]) + " or " + names[-1] if len(names) > 1 else "".join(names)


def example(entry: Entry) -> str:
    """The advice to write like the entry's example."""
    return f"write it like `{entry.example}`"


def with_unit(number: str, wanted: Sequence[Element], entry: Entry) -> str:
    """The number with each unit that would be right: "`225 A`"; the unit of the example first."""
    units: dict[str, None] = {}
    in_example = [word for word in entry.example.replace(",", " ").split() if word in UNITS]
    for dimension in (dimension for element in wanted for dimension in element.dimensions):
        shown = [unit for unit in in_example if UNITS[unit].dimension is dimension]
        units[shown[0] if shown else USUAL_UNITS[dimension]] = None
    return listed([f"{number} {unit}" for unit in units][:4])


def may_stand(scope: Scope) -> str:
    """What may stand in a scope, a dozen at most."""
    names = scope.names
    if not names:
        return ""
    return (listed(names) if len(names) <= 12 else f"{listed(names[:12])} …") + " may stand here"
