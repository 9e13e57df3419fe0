"""Patterns in a form for readers: `bus CURRENT [Cu | Al]`."""

from __future__ import annotations

from fedfrom.quantity import USUAL_UNITS
from fedfrom.vocabulary.entry import Entry, Vocabulary
from fedfrom.vocabulary.pattern import DIMENSIONS, PLAIN_TYPES

MOST_SHOWN = 5  # words of a closed list that are shown in a form; longer lists have a table of their own
_SPOKEN = {
    "count": "number",
    "number": "number",
    "system": "system",
    "pair": "system",
    "text": '"text"',
    "tag": "TAG",
    "part": "TAG",
    "size": "size",
    "trade": "trade size",
    "date": "date",
}


def pattern_forms(entry: Entry, vocabulary: Vocabulary) -> list[str]:
    """Each way to write an entry, its name first."""
    name = "" if entry.unnamed else entry.name
    if entry.shape == "groups":
        return [f"{name} TAG, TAG or TAG"]
    if entry.head_is_option:
        return [f"{name} …"]
    forms = [f"{name} {_form(form, vocabulary)}".strip() for form in entry.forms]
    if entry.continues:
        forms = [f"{form}, …" for form in forms]
    return forms or [name]


def amount_forms(entry: Entry, vocabulary: Vocabulary) -> list[str]:
    """The ways to say how big a load is, without tag, name and phases."""
    forms = []
    for form in entry.forms:
        words = [word for word in form.split() if word not in {"tag:tag?", "name:text?"}]
        if words and not words[-1].startswith("phases:"):
            forms.append(_form(" ".join(words), vocabulary))
    return forms


def form_text(entry: Entry, vocabulary: Vocabulary) -> str:
    """The first way to write an entry."""
    return " or ".join(pattern_forms(entry, vocabulary)[:2])


def _form(source: str, vocabulary: Vocabulary) -> str:
    words = []
    for token in source.split():
        optional = token.endswith("?") and len(token) > 1
        spoken = _element(token.removesuffix("?") if optional else token, vocabulary)
        words.append(f"[{spoken}]" if optional else spoken)
    return " ".join(words)


def _element(token: str, vocabulary: Vocabulary) -> str:
    _name, colon, kind = token.partition(":")
    if not colon or not kind:
        return token
    if kind.startswith("@"):
        words = list(vocabulary.lists[kind[1:]].words)
        if len(words) <= MOST_SHOWN:
            return " / ".join(words)
        return f"({vocabulary.lists[kind[1:]].noun})"
    if kind in PLAIN_TYPES:
        return _SPOKEN[kind]
    units = " / ".join(USUAL_UNITS[DIMENSIONS[part]] for part in kind.split("|"))
    return f"N {units}"


def link(title: str) -> str:
    """The anchor of a heading."""
    kept = "".join(letter for letter in title.lower() if letter.isalnum() or letter in " -")
    return kept.replace(" ", "-")
