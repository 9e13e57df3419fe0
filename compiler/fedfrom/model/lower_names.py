"""Findings about names that are not known where they stand: near misses, other words for the thing, its right place."""

from __future__ import annotations

from collections.abc import Sequence

from fedfrom.findings import Finding
from fedfrom.findings.nearest import listed, nearest
from fedfrom.model.lower_phrases import belongs, error, leading_words, may_stand, scope_words, written
from fedfrom.quantity import UNITS
from fedfrom.syntax.tree import Part
from fedfrom.vocabulary import Scope, Vocabulary

_NAME_FIRST = "write its name first, as in `rating 75 kVA`, `voltage 480Y/277 V`, `bus 400 A`"
_ELSEWHERE = "put it on the line of what it belongs to, or take it out"


def unknown_name(vocabulary: Vocabulary, parts: Sequence[Part], scopes: Sequence[Scope], subject: str) -> Finding:
    """The first words of a run name nothing in these scopes (the first one is named in the sentence)."""
    words = leading_words(parts)
    first, span = words[0], parts[0].span
    where = scope_words(scopes[0].kind)
    alone = _stands_alone(words, scopes)
    if alone and len(parts) > len(alone.split()):
        message = f"`{alone}` is not written: its value stands alone"
        rest = written(parts[len(alone.split()) :])
        return error("unknown-word", subject, message, span, "take this out", f"write `{rest}`")
    whole = _word_of_an_option(vocabulary, words, scopes)
    if whole:
        message = f"`{first}` alone is not known {where}"
        return error("unknown-word", subject, message, span, "of what?", f"write {listed(whole)}")
    if first in UNITS:
        message = f"an amount of `{first}` does not say what it is of"
        return error("unnamed-value", subject, message, span, "of what?", _NAME_FIRST)
    explained = vocabulary.explain.get(first)
    if explained:
        message = f"`{first}` is not a word of the language"
        return error("unknown-word", subject, message, span, "not known here", explained)
    near, instead = near_names(words, scopes), other_word(vocabulary, words, scopes)
    by_sound = near and "-".join(words[:2]) != near[0]  # `water heater` is the word itself
    if near and not (instead and (by_sound or near[0].split()[0] == words[0])):
        length = len(near[0].replace("-", " ").split()) if "-".join(words[:2]) == near[0] else len(near[0].split())
        length = min(length, len(words))
        wrong = " ".join(words[:length])
        at = span.to(parts[length - 1].span)
        message = f"`{wrong}` is not known {where}"
        return error("unknown-word", subject, message, at, "not known here", f"write {listed(near)}")
    if instead:
        message = f"`{first}` is not a word of the language"
        return error("unknown-word", subject, message, span, "not known here", f"write `{instead}`")
    elsewhere = _known_elsewhere(vocabulary, words, scopes)
    if elsewhere:
        name, kinds = elsewhere
        message = f"`{name}` does not stand {where}: it belongs {belongs(kinds)}"
        if scopes[0].kind == "defaults" and kinds[0] in vocabulary.item_kinds:
            advice = f"narrow the defaults: `defaults panelboard {{ {written(parts)} }}`"
            return error("unknown-word", subject, message, span, "not here", advice)
        return error("unknown-word", subject, message, span, "not here", "move it to where it belongs, or take it out")
    shown = written(parts[:2]) if first[:1].isdigit() else first
    message = f"`{shown}` is not known {where}"
    return error("unknown-word", subject, message, span, "not known here", may_stand(scopes[0]) or _ELSEWHERE)


def near_names(words: Sequence[str], scopes: Sequence[Scope]) -> tuple[str, ...]:
    """Names of these scopes that the first words are close to, the nearest first; `water heater` is `water-heater`."""
    joined = "-".join(words[:2])
    found: dict[str, None] = {name: None for scope in scopes for name in scope.names if name == joined}
    by_length: dict[int, list[str]] = {}
    for scope in scopes:
        for name in scope.names:
            by_length.setdefault(len(name.split()), []).append(name)
    for length in sorted(by_length, reverse=True):
        if length <= len(words) and not found:
            found.update(dict.fromkeys(nearest(" ".join(words[:length]), by_length[length])))
    if not found and words:
        found.update({name: None for scope in scopes for name in scope.names if name.split()[0] == words[0]})
    return tuple(found)[:3]


def other_word(vocabulary: Vocabulary, words: Sequence[str], scopes: Sequence[Scope]) -> str:
    """What is written here for a word of the trade that the language does not take; "" where there is nothing."""
    for length in (3, 2, 1):
        instead = vocabulary.instead.get(" ".join(words[:length]), "") if length <= len(words) else ""
        pieces = instead.split()
        if pieces and any(scope.match(pieces) or scope.match(pieces[1:]) for scope in scopes):
            return instead
    return ""


def _known_elsewhere(
    vocabulary: Vocabulary, words: Sequence[str], scopes: Sequence[Scope]
) -> tuple[str, tuple[str, ...]] | None:
    here = {scope.kind for scope in scopes}
    found = [(kind, entry) for kind, entry in vocabulary.where_known(words) if kind not in here]
    if not found:
        return None
    return found[0][1].name, tuple(dict.fromkeys(kind for kind, _ in found))


def _word_of_an_option(vocabulary: Vocabulary, words: Sequence[str], scopes: Sequence[Scope]) -> tuple[str, ...]:
    """Options that take a word of the list that the words belong to: `zone interlock` is of `arc reduction`."""
    found: dict[str, None] = {}
    for entry in (entry for scope in scopes for entry in scope.entries.values() if entry.kind == "option"):
        for element in (pattern.elements[0] for pattern in entry.patterns if len(pattern.elements) == 1):
            if element.type != "list" or entry.unnamed:
                continue
            for pieces in vocabulary.lists[element.list].by_first_word.get(words[0], ()):
                if tuple(words[: len(pieces)]) == pieces:
                    found[f"{entry.name} {' '.join(pieces)}"] = None
    return tuple(found)[:3]


def _stands_alone(words: Sequence[str], scopes: Sequence[Scope]) -> str:
    """The name of a fact that is known by its value alone, when it is written out (`length 40 ft`)."""
    names = (entry.name for scope in scopes for entry in scope.unnamed)
    return next((name for name in names if name.split() == list(words[: len(name.split())])), "")
